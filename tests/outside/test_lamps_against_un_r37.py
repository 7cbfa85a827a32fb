"""Filament lamps against UN Regulation No. 37: rated volts and watts, mostly from memory (see the table)."""

from small_looms import Bench

from planner.model.elements import Lamp

PAIRS = (("main beam", "dipped beam"), ("stop lamp", "tail lamp"), ("turn lamp", "side lamp"))


def filaments(catalogue):
    """Part, lamp and volts of every lamp that names a category."""
    for part in catalogue.parts.values():
        for element in part.inside:
            if isinstance(element, Lamp) and element.category:
                yield part, element, element.volts or part.volts


def rated(table) -> dict[tuple[str, float], list[float]]:
    return {
        (row["category"], float(row["rated_v"])): [float(watts) for watts in row["rated_w"].split("/")]
        for row in table("lamps")
    }


def test_every_category_is_in_the_regulation_with_its_watts(catalogue, table):
    known = rated(table)
    found = list(filaments(catalogue))
    assert len(found) > 10
    for part, lamp, volts in found:
        assert (lamp.category, volts) in known, f"{part.part}: {lamp.category} at {volts:g} V"
        assert lamp.watts in known[lamp.category, volts], f"{part.part}: {lamp.does}"


def test_two_filaments_of_one_lamp_are_its_two_ratings_in_order(catalogue, table):
    """Main before dipped, major before minor: the stop or turn filament is the strong one."""
    known = rated(table)
    checked = 0
    for part in catalogue.parts.values():
        lamps = [lamp for owner, lamp, _ in filaments(catalogue) if owner is part]
        for category in {lamp.category for lamp in lamps}:
            watts = known[category, part.volts]
            if len(watts) == 2:
                checked += 1
                own = {lamp.does: lamp.watts for lamp in lamps if lamp.category == category}
                (pair,) = (pair for pair in PAIRS if set(pair) == set(own))
                assert [own[does] for does in pair] == watts, part.part
    assert checked >= 3


def test_lamp_at_its_rated_volts_takes_its_rated_watts(catalogue):
    for part, lamp, volts in filaments(catalogue):
        (live, back) = lamp.between
        if live not in part.terminals or back not in part.terminals:
            continue
        wires = [f"feed:x > p:{live}"]
        wires += [f"p:{back} > earth"] if part.terminals[back].by == "wire" else []
        bench = Bench({"part": part}, {"p": "part"}, wires, {"x": {"role": "58"}}, volts=volts)
        if (("p", lamp.does) in bench.view.net.loads) and not bench.view.net.hidden:
            assert abs(bench.watts(f"p/{lamp.does}", {}) - lamp.watts) < 1e-9, part.part


def test_every_category_of_the_table_is_in_some_lamp(catalogue, table):
    """A restorer who reads a category off an old lamp finds a unit that takes it."""
    assert {row["category"] for row in table("lamps")} == {
        lamp.category for _, lamp, _ in filaments(catalogue)
    }
