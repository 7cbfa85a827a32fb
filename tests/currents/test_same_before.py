"""On another part a tab is known by its ends, a contact by what it switches, whatever is stamped there."""

from dataclasses import replace

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


MAIN, HORN = ("front.lamp", "main beam"), ("bay.horn", "horn")


def contact(at: str, amps: float, *loads: tuple[str, str], limit: float = 1.6) -> Strain:
    """What a contact switches; without its loads nothing is known of it but where it is."""
    return Strain("contact", at, amps, limit, "A", "a source", "tested", {}, loads=loads)


def test_a_contact_of_another_name_that_switches_the_same_is_no_new_strain() -> None:
    before = by_identity([contact("bars.dip:M", 4.2, MAIN)])
    assert not is_new(contact("bars.dip:56a", 4.2, MAIN), before)
    assert is_new(contact("bars.dip:56a", 4.2, MAIN, limit=1.0), before)  # it is made for less
    assert is_new(contact("bars.other:56a", 4.2, MAIN), before)  # a second one, in series


def test_a_contact_of_the_same_name_that_switches_something_else_is_another() -> None:
    before = by_identity([contact("bars.dip:H", 4.2, MAIN)])
    assert is_new(contact("bars.dip:H", 4.2, HORN), before)
    assert not is_new(contact("bars.dip:H", 4.2, MAIN, HORN), before)  # told by its name


def test_a_wire_that_the_plan_makes_stands_all_of_its_fuse() -> None:
    fused = Strain("fuse-over-wire", "W14", 20.0, 19.0, "A", "a source", "tested", {}, leg=0)
    assert not is_new(fused, {})  # it was there, and a little over a round limit is told only
    assert is_new(fused, {}, {"W14"})
    assert not is_new(replace(fused, value=19.0), {}, {"W14"})
