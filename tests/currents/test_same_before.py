"""A tab on another part is the old one if the same ends are on it, whatever is stamped beside either."""

from planner.currents.inspect import by_identity, is_new, same_before
from planner.model.strain import Strain

WIRE = (("W14", 1),)


def tab(at: str, amps: float, ends: tuple[tuple[str, int], ...]) -> Strain:
    """What a blade carries, where 15 A is the most."""
    return Strain("tab", at, amps, 15.0, "A", "a source", "tested", {}, ends=ends)


def test_the_same_ends_on_a_tab_of_another_name_are_no_new_strain() -> None:
    before = by_identity([tab("dash.box:I", 18.9, WIRE)])
    assert same_before(tab("dash.box:15", 18.9, WIRE), before) is not None
    assert not is_new(tab("dash.box:15", 18.9, WIRE), before)
    assert is_new(tab("dash.box:15", 27.0, WIRE), before)


def test_other_ends_on_a_tab_of_the_same_name_are_told_by_its_name() -> None:
    before = by_identity([tab("dash.box:5", 18.9, WIRE)])
    assert not is_new(tab("dash.box:5", 18.9, (*WIRE, ("W15", 0))), before)
    assert is_new(tab("dash.box:6", 18.9, (("W15", 0),)), before)


def test_where_two_tabs_trade_their_ends_the_ends_decide() -> None:
    before = by_identity([tab("dash.box:1", 20.0, WIRE), tab("dash.box:5", 3.0, (("W15", 0),))])
    assert not is_new(tab("dash.box:5", 20.0, WIRE), before)
