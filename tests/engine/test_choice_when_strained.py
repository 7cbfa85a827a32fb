"""The choice when currents count: what would be accepted is strained, and repaired where that helps."""

from collections.abc import Iterator, Sequence

import pytest
from choice import Bench, Where, make_rule, why

from planner.engine import withstanding
from planner.engine.case import Case
from planner.model.delta import Fit
from planner.model.loom import Place
from planner.model.need import Emission, Fault, Fitted, Proposal, Remark
from planner.model.strain import Strain, StrainKind


def strained(kind: StrainKind = "drop", share: float = 0.5) -> Fault:
    strain = Strain(kind, "p:x", 1 + share, 1.0, "V", "a table", "invented", {})
    return Fault("strain", kind, "p:x", share=share, strain=strain)


def on(**faults: Fault) -> object:
    """Strains by where the end of wire A is."""
    return lambda where: [faults[where["A"]]] if where["A"] in faults else []


def bench(strains: object, homes: Sequence[str] = ("x", "y+"), **fields: object) -> Bench:
    return Bench(homes={"A": homes}, strains=strains, **fields)  # type: ignore[arg-type]


def test_what_strains_nothing_is_chosen_though_it_takes_longer() -> None:
    assert bench(on(x=strained())).chosen() == {"A": "y"}


def test_a_strain_is_repaired_if_that_takes_less_than_another_way() -> None:
    assert bench(on(x=strained()), repairs={"drop": [("A", "z")]}).chosen() == {"A": "z"}


def test_a_strain_that_nothing_mends_stays_with_the_plan() -> None:
    choice = bench(on(x=strained(), y=strained())).settle()
    assert [fault.what for fault in choice.chosen.faults] == ["drop"]


def test_a_repair_that_burns_is_worse_than_a_strain() -> None:
    looms = bench(on(x=strained(), z=strained("wire")), ["x"], repairs={"drop": [("A", "z")]})
    assert looms.chosen() == {"A": "x"}


def test_of_two_strained_ways_the_quicker_is_repaired_too_before_one_is_called_cheapest() -> None:
    """The way that is strained less takes longer; each can be mended by the same move."""
    strains = on(x=strained(share=0.9), y=strained(share=0.1))
    choice = bench(strains, repairs={"drop": [("A", "z")]}).settle()
    direct = bench(None, ["z"]).settle()
    assert choice.chosen.candidate.minutes == direct.chosen.candidate.minutes
    assert choice.is_proven_cheapest


@pytest.mark.parametrize(
    ("kind", "chosen"), [("drop", {"A": "x"}), ("wire", {"A": "y"}), ("not-charging", {"A": "y"})]
)
def test_the_search_goes_on_past_its_limit_while_the_best_so_far_cannot_be_lived_with(
    monkeypatch: pytest.MonkeyPatch, kind: StrainKind, chosen: Where
) -> None:
    monkeypatch.setattr(withstanding, "MOST_STRAINED", 1)
    monkeypatch.setattr(withstanding, "MOST_STRAINED_WIRES", 0)
    choice = (looms := bench(on(x=strained(kind)))).settle()
    assert looms.where(choice.chosen.candidate.loom) == chosen
    assert choice.is_proven_cheapest is (kind != "drop")


def test_less_work_that_is_strained_is_not_shown_beside_the_plan() -> None:
    choice = bench(on(x=strained("wire"))).settle()
    assert [a.judged.candidate.loom.find("A").ends[0].at for a in choice.alternatives] == []
    assert bench(None, ["x", "y+"]).settle().chosen.candidate.minutes < choice.chosen.candidate.minutes


def test_an_old_part_with_which_as_much_is_lost_is_not_offered_because_less_wears() -> None:
    asked: list[str] = []

    def strains(where: Where) -> Sequence[Fault]:
        asked.append(where["A"])
        return [strained()] if where["A"] == "x" else []

    looms = bench(strains, ["x"], faults=lambda where: [Fault("lost", "radio", "p")])
    assert looms.settle().alternatives == ()
    assert "a" not in asked  # where its end is with the old part: its amps are not worked out


def test_a_remark_about_a_strain_that_stays_is_kept_and_its_proposals_are_not_made() -> None:
    def tell(case: Case) -> Iterator[Emission]:
        if isinstance(case.need, Fault) and case.need.strain:
            yield Remark(f"{case.need.strain.value:g} of 1", why("tell"))

    choice = bench(on(x=strained("generator", 0.2)), ["x"], rules=[make_rule("tell", tell)]).settle()
    assert [note.text for note in choice.notes if isinstance(note, Remark)] == ["1.2 of 1"]


def test_a_part_that_the_plan_itself_fits_is_put_to_the_rules_too() -> None:
    asked: list[str] = []

    def fit(case: Case) -> Iterator[Emission]:
        if isinstance(case.need, Fitted):
            asked.append(case.need.at)
        if isinstance(case.need, Fault) and "relay" not in case.loom.places:
            place = Place(part="new", zone="zone")
            yield Proposal((Fit("relay", place), case.put("A", 0, "p:z")), why("fit"))

    looms = bench(on(x=strained()), ["x"], rules=[make_rule("fit", fit)])
    assert looms.chosen() == {"A": "z"}
    assert asked == ["p", "relay"]


def test_strains_are_asked_of_where_the_ends_are() -> None:
    seen: list[Where] = []

    def remember(where: Where) -> Sequence[Fault]:
        seen.append(where)
        return ()

    assert bench(remember, ["x"]).chosen() == {"A": "x"} and seen == [{"A": "x"}]
