"""A relay of a known pattern with a coil of other ohms is that pattern, and the ohms are told."""

import pytest
from benches import part, readings
from test_identify import BOTH, BREAK, MAKE, Rows, found
from test_measured_part import RELAY, made

from planner.inquiry.part.document import identification_json
from planner.model.elements import Coil


def with_coil(ohms: float) -> Rows:
    return [(p, a, b, ohms if says == 75.0 else says) for p, a, b, says in RELAY]


@pytest.mark.parametrize("ohms", [20.0, 320.0])
def test_another_coil_is_the_same_pattern_and_its_ohms_are_told(ohms: float) -> None:
    seen = found(with_coil(ohms), MAKE, BREAK, BOTH, powered=("coil fed",))
    assert [e.part.part for e in seen.explanations] == ["changeover"]
    assert seen.explanations[0].other_coils == (("k", ohms, 80.0),)
    assert seen.is_decided
    (told,) = identification_json(seen)["explanations"]
    assert told["other_coils"] == [{"coil": "k", "ohms": ohms, "catalogue_ohms": 80.0}]


def test_a_coil_of_about_the_catalogues_ohms_is_no_other_coil() -> None:
    seen = found(RELAY, BOTH, powered=("coil fed",))
    assert [e.other_coils for e in seen.explanations] == [()]


def test_what_no_coil_of_that_pattern_has_is_none() -> None:
    for ohms in (3.0, 5000.0):
        seen = found(with_coil(ohms), BOTH, powered=("coil fed",))
        assert seen.explanations == ()
        assert [r.says for e in seen.nearly for r in e.wrong] == [ohms]


def test_a_resistor_of_other_ohms_is_no_coil() -> None:
    thing = part("AB", [{"resistor": {"between": ["A", "B"], "ohms": 80}}])
    assert found([("rest", "A", "B", 320.0)], thing).explanations == ()


def test_a_part_that_explains_the_readings_as_it_is_comes_before_one_with_another_coil() -> None:
    other = part(["1", "2", "3", "4"], [{"resistor": {"between": ["1", "2"], "ohms": 320}}], "other")
    rows: Rows = [("rest", "A", "B", 320.0), ("rest", "C", "D", "open"), ("rest", "A", "C", "open")]
    assert [e.part.part for e in found(rows, MAKE, other).explanations] == ["other"]


def test_the_written_part_has_the_coil_as_read_and_says_what_follows() -> None:
    mine = made(readings(with_coil(320.0), powered=["coil fed"]), BOTH)
    (coil,) = (e for e in mine.part.inside if isinstance(e, Coil))
    assert coil.ohms == 320.0
    assert any("'k' has 320 ohm, not 80" in said and "other volts" in said for said in mine.unknown)
    assert not any("does not explain" in said for said in mine.unknown)
