"""Worked circuits and lamps of the literature through our solver; each figure with its source and basis.

The circuits stand in ``reference/worked-circuits.yaml``, lamps in the table of UN Regulation No. 37.
"""

from pathlib import Path
from typing import Any, NamedTuple

import pytest
from small_looms import read

from planner.currents.laws import Emf, Filament, Law, Resistance
from planner.currents.solver import Branch, Point, solve

EXAMPLES: list[dict[str, Any]] = read(
    (Path(__file__).parent / "reference" / "worked-circuits.yaml").read_text(encoding="utf-8")
)
SOURCE_OHMS = 1e-9  # the examples' sources are ideal; ours have some resistance always
RUNS = [
    pytest.param(example, law, id=f"{example['example']}: {law}")
    for example in EXAMPLES
    for law in ("constant", "filament")
    if law in example
]


class Solved(NamedTuple):
    """An example's elements by name, and their operating point."""

    branches: dict[str, Branch]
    point: Point
    amps: dict[str, float]

    def figure(self, quantity: str, name: str) -> float:
        """One quantity of an element, or the volts of a node, or the current out of a feed."""
        match quantity:
            case "volts":
                return self.point.volts[name]
            case "amps":
                return self.amps[name]
            case "supply":
                return -self.amps[f"feed {name}"]
            case "across":
                return self.point.across(self.branches[name])
            case "watts":
                return self.amps[name] * self.point.across(self.branches[name])
            case "ohms":
                return self.point.across(self.branches[name]) / self.amps[name]
            case _:
                raise AssertionError(f"no quantity {quantity}")


def run(example: dict[str, Any], law: str) -> Solved:
    """Solve an example with every lamp a constant resistance, or a filament."""
    branches = [
        Branch((f"feed {node}",), node, "G", Emf(float(volts), SOURCE_OHMS))
        for node, volts in example["feeds"].items()
    ]
    branches += [_branch(name, said.split(), law) for name, said in example["elements"].items()]
    point = solve(branches, "G")
    assert not point.unsettled
    names = [branch.name[0] for branch in branches]
    return Solved(dict(zip(names, branches, strict=True)), point, dict(zip(names, point.amps, strict=True)))


def _branch(name: str, said: list[str], law: str) -> Branch:
    a, b, first, unit, *rest = said
    if unit == "ohm":
        return Branch((name,), a, b, Resistance(float(first)))
    assert unit == "V" and rest[1:] == ["W"], said
    volts, watts = float(first), float(rest[0])
    lamp: Law = Resistance(volts * volts / watts) if law == "constant" else Filament(volts, watts / volts)
    return Branch((name,), a, b, lamp)


def test_every_example_names_source_and_basis() -> None:
    assert len(RUNS) > len(EXAMPLES) >= 24
    assert all(example["source"] and example["basis"] for example in EXAMPLES)
    assert all(figures for example in EXAMPLES for figures in (example["constant"],))


@pytest.mark.parametrize(("example", "law"), RUNS)
def test_circuit_has_its_worked_figures(example: dict[str, Any], law: str) -> None:
    solved = run(example, law)
    figures = dict(example[law])
    brightest = figures.pop("brightest", None)
    assert figures or brightest, "a row that checks nothing"
    if brightest:
        lamps = [name for name, said in example["elements"].items() if said.endswith("W")]
        assert max(lamps, key=lambda name: solved.figure("watts", name)) == brightest
    for quantity, rows in figures.items():
        for name, printed in rows.items():
            half_a_digit = 0.5 * 10.0 ** -len(printed.partition(".")[2])
            found = solved.figure(quantity, name)
            assert found == pytest.approx(float(printed), rel=0, abs=1.001 * half_a_digit), (quantity, name)


# -- re-rating: current as (V/V0)^0.55, power as ^1.6 ----------------------------------------------------
# Standard Handbook for Electrical Engineers, 11th ed., as cited by an encyclopedia article (confirmed).


@pytest.mark.parametrize(("share", "current", "power"), [(1.05, 1.027, None), (0.90, 0.944, 0.849)])
def test_lamp_is_re_rated_as_computed_from_the_handbook(
    share: float, current: float, power: float | None
) -> None:
    """Figures computed in this project's reference set from the exponents."""
    amps = Filament(12.0, 1.75).amps(12.0 * share)
    assert amps / 1.75 == pytest.approx(current, abs=0.0005)
    assert power is None or share * amps / 1.75 == pytest.approx(power, abs=0.0005)


@pytest.mark.parametrize("share", [0.9, 0.95, 1.05, 1.1])
def test_the_handbooks_own_exponents_disagree_by_less_than_a_percent_near_the_rating(share: float) -> None:
    """1 + 0.55 is 1.55, where the handbook has 1.6 for power: a trap, not a fault of the law."""
    assert share * Filament(12.0, 1.75).amps(12.0 * share) / 1.75 == pytest.approx(share**1.6, rel=0.01)


def test_halogen_lamp_at_five_percent_more_takes_the_power_that_light_and_efficacy_leave() -> None:
    """Light +15 %, efficacy +6.5 % (encyclopedia extract, confirmed): 1.15 / 1.065 of the power, computed."""
    assert 1.05 * Filament(12.0, 1.75).amps(12.6) / 1.75 == pytest.approx(1.15 / 1.065, abs=0.01)


# -- lamps at their test volts ---------------------------------------------------------------------------


class TestVolts(NamedTuple):
    """A filament of the table at its test volts."""

    __test__ = False
    name: str
    rated_v: float
    rated_w: float
    test_v: float
    most_w: float

    @property
    def share(self) -> float:
        """What our law, anchored at the rating, gives at the test volts, as a share of the highest watts."""
        return (
            self.test_v * Filament(self.rated_v, self.rated_w / self.rated_v).amps(self.test_v) / self.most_w
        )


def filaments(table) -> list[TestVolts]:
    """Every filament whose row has test volts and highest watts."""
    return [
        TestVolts(f"{row['category']} {row['rated_v']} V {rated} W", float(row["rated_v"]), float(rated),
                  float(row["test_v"]), float(most))
        for row in table("lamps")
        if row["test_v"]
        for rated, most in zip(row["rated_w"].split("/"), row["max_w_at_test_v"].split("/"), strict=True)
    ]  # fmt: skip


def is_rated_at_its_test_volts(lamp: TestVolts) -> bool:
    """Whether the highest watts are but a tenth above the rated ones: those hold at the test volts."""
    return lamp.most_w <= 1.1001 * lamp.rated_w


def is_halogen_headlamp_of_24_volts(lamp: TestVolts) -> bool:
    """The sheets of H1, H2, H3 and H4 at 24 V: tested at 28 V, a sixth more than rated."""
    return (
        lamp.rated_v == 24 and lamp.name.startswith("H") and lamp.name.split()[0] in ("H1", "H2", "H3", "H4")
    )


def test_filament_law_stays_below_the_highest_watts_at_test_volts(table) -> None:
    """The rows (nearly all from memory) allow what (V/V0)^1.55 gives, but for two groups told below."""
    checked = [
        lamp
        for lamp in filaments(table)
        if not is_rated_at_its_test_volts(lamp) and not is_halogen_headlamp_of_24_volts(lamp)
    ]
    worst = max(checked, key=lambda lamp: lamp.share)
    print(f"{len(checked)} filaments, worst {worst.name}: {worst.share:.3f} of its highest watts")
    assert len(checked) > 40
    assert worst.share <= 0.981, worst


def test_small_lamps_are_overstated_because_their_watts_are_those_at_test_volts(table) -> None:
    """A W5W may take 5.5 W at 13.5 V, 5 W and a tenth; anchored at 12 V our law gives 6 W: careful."""
    small = [lamp for lamp in filaments(table) if is_rated_at_its_test_volts(lamp)]
    worst = max(small, key=lambda lamp: lamp.share)
    print(f"{len(small)} filaments, worst {worst.name}: {worst.share:.3f} of its highest watts")
    assert small and all(lamp.rated_w <= 10 for lamp in small)
    assert all(1.0 < lamp.share <= 1.105 for lamp in small)
    assert all(lamp.rated_w < lamp.most_w for lamp in small)  # anchored at the test volts they would pass


def test_halogen_headlamps_of_24_volts_are_overstated_by_an_eighth_at_most(table) -> None:
    """At 28 V their rows, from memory, allow 13 to 20 % above the rating; the law gives 27 %: unexplained."""
    lamps = [lamp for lamp in filaments(table) if is_halogen_headlamp_of_24_volts(lamp)]
    worst = max(lamps, key=lambda lamp: lamp.share)
    print(f"{len(lamps)} filaments, worst {worst.name}: {worst.share:.3f} of its highest watts")
    assert len(lamps) == 5
    assert all(1.0 < lamp.share <= 1.121 for lamp in lamps)
