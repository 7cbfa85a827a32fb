"""Operations: what each does to a loom, and that undoing it leaves no trace."""

from collections.abc import Callable, Sequence
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from planner.model.delta import (
    Add,
    ChangeFuse,
    ChangeSupply,
    Cover,
    Cut,
    Extend,
    Fit,
    Hold,
    Insert,
    Join,
    Make,
    Move,
    Operation,
    Piggyback,
    Reason,
    ReEnd,
    Remove,
    Renew,
    Step,
    copy_loom,
    last_words,
    new_end,
)
from planner.model.loom import Loom, Place, Supply, Wire

PLACE = Place(part="old", zone="z", mounting="doubtful", title="the place")
OTHER = Place(part="other", zone="z")
LOOM = Loom.model_validate(
    {
        "loom": "tiny",
        "supply": {"volts": 12, "earthed": "negative"},
        "zones": {"z": {}},
        "places": {"o": OTHER.model_dump(), "p": PLACE.model_dump(), "q": OTHER.model_dump()},
        "piggybacks": ["p:a", "q:a", "p:a"],
        "covered": ["p:d", "q:d"],
        "fuses": {"p:c": 8, "q:c": 16},
        "wires": [
            {"wire": "A", "colour": "RD", "mm2": 1, "metres": 1, "ends": ["p:a", "q:a"]},
            {"wire": "B", "colour": ["BK", "BK/WH", "GN"], "mm2": [1, 2, 3], "metres": [1, 2, 3],
             "ends": ["p:b", "q:b", "p:c", "earth:z"]},
            {"wire": "C", "colour": "YE", "mm2": 1, "metres": 1, "ends": ["q:c", "p:a"]},
        ],
    }
)  # fmt: skip
NEW = Wire.model_validate({"wire": "new-1", "colour": "BK", "mm2": 1, "metres": 1, "ends": ["p:x", "q:x"]})
LEAD = NEW.model_copy(update={"wire": "lead-1"})
REMOVE = Remove("p", PLACE, tuple(LOOM.ends_of_place("p")), ("p:a", "p:a"), ("p:d",), (("p:c", 8.0),))


def at(loom: Loom, wire: str) -> list[str]:
    return [end.at for end in loom.find(wire).ends]


def is_sound(loom: Loom) -> bool:
    """The look-up tables say what the wires say."""
    fresh = copy_loom(loom)
    return loom.ends_at == fresh.ends_at and loom.wire_index == fresh.wire_index


class TestWhatEachDoes:
    def test_taking_a_part_out_leaves_its_ends_loose_and_takes_its_tabs_and_covers_along(self) -> None:
        loom = REMOVE.apply(LOOM)
        assert set(loom.places) == {"o", "q"}
        assert at(loom, "A") == ["loose", "q:a"] and at(loom, "B") == ["loose", "q:b", "loose", "earth:z"]
        assert (loom.piggybacks, loom.covered) == (("q:a",), ("q:d",))
        assert loom.fuses == {"q:c": 16}

    def test_a_part_is_put_in_without_any_end_on_it(self) -> None:
        loom = Fit("r", PLACE).apply(LOOM)
        assert loom.places["r"] == PLACE and not list(loom.ends_of_place("r"))

    def test_a_part_mounted_otherwise_goes_back_to_how_it_was_mounted(self) -> None:
        fit = Fit("p", PLACE.model_copy(update={"mounting": "insulated"}), over=PLACE)
        assert fit.apply(LOOM).places["p"].mounting == "insulated"
        assert fit.undo(fit.apply(LOOM)).places["p"] == PLACE

    def test_a_part_goes_in_over_its_like_with_its_ends_on(self) -> None:
        loom = Fit("p", OTHER, over=PLACE).apply(LOOM)
        assert loom.places["p"] == OTHER and at(loom, "A") == ["p:a", "q:a"]
        assert Fit("p", OTHER, over=PLACE).undo(loom) == LOOM

    def test_the_supply_is_changed_and_nothing_else(self) -> None:
        positive = Supply(volts=6, earthed="positive")
        change = ChangeSupply(positive, LOOM.supply)
        loom = change.apply(LOOM)
        assert loom.supply.live_volts == -6 and loom.supply.words == "6 V, positive earth"
        assert loom == copy_loom(LOOM, supply=positive) and change.undo(loom) == LOOM

    def test_an_end_is_moved_and_its_cover_comes_off(self) -> None:
        covered = Cover("p:a", "A", 0).apply(LOOM)
        loom = Move("A", 0, "p:a", "p:x", "p:a", uncovers=True).apply(covered)
        assert at(loom, "A") == ["p:x", "q:a"] and not loom.find("A").ends[0].covered

    def test_an_end_is_insulated_and_a_bare_terminal_covered(self) -> None:
        assert Cover("p:a", "A", 0).apply(LOOM).find("A").ends[0].covered
        assert Cover("p:x").apply(LOOM).covered == ("p:d", "p:x", "q:d")

    def test_a_new_wire_is_run_and_then_made(self) -> None:
        made = NEW.model_copy(update={"colour": ("GN",), "metres": (0.7,)})
        loom = Make(made, NEW).apply(Add(NEW, None).apply(LOOM))
        assert loom.wires[:3] == LOOM.wires and loom.find("new-1") == made

    def test_a_cut_puts_a_joiner_in_the_middle_of_a_chain_and_every_leg_stays_as_it_is(self) -> None:
        whole = LOOM.find("B")
        cut = Cut("B", 1, whole.ends[1].at, "joint:q.b").apply(LOOM).find("B")
        assert [end.at for end in cut.ends] == ["p:b", "joint:q.b", "p:c", "earth:z"]
        assert (cut.colour, cut.mm2, cut.metres) == (whole.colour, whole.mm2, whole.metres)

    def test_a_piggyback_adds_a_tab(self) -> None:
        assert Piggyback("q:b").apply(LOOM).piggybacks == (*LOOM.piggybacks, "q:b")

    def test_ends_are_joined_in_a_joiner(self) -> None:
        loom = Join((("A", 0, "p:a"), ("C", 1, "p:a")), "joint:one").apply(REMOVE.apply(LOOM))
        assert loom.ends_at["joint:one"] == (("A", 0), ("C", 1))

    def test_an_end_gets_another_fitting_or_is_lengthened(self) -> None:
        assert ReEnd("A", 0, "p:x", "bullet", None).apply(LOOM).find("A").ends[0].fitting == "bullet"
        longer = Extend("A", 0, "p:x", 0.5, 0.05, (1.0,)).apply(LOOM).find("A")
        assert (longer.ends[0].spare_metres, longer.metres) == (0.55, (1.5,))

    def test_each_leg_that_reaches_a_lengthened_end_has_more_wire(self) -> None:
        extend = Extend("B", 1, "p:x", 0.5, 0.05, (1.0, 2.0, 3.0))
        assert extend.apply(LOOM).find("B").metres == (1.5, 2.5, 3.0)
        assert extend.undo(extend.apply(LOOM)).find("B").metres == (1.0, 2.0, 3.0)

    def test_a_part_is_put_in_line_with_a_short_lead(self) -> None:
        lead = LEAD.model_copy(update={"ends": (new_end("fuse.1:out", None), new_end("p:a", None))})
        loom = Insert("A", 0, "p:a", "fuse.1", PLACE, "in", lead).apply(LOOM)
        assert at(loom, "A") == ["fuse.1:in", "q:a"] and at(loom, "lead-1") == ["fuse.1:out", "p:a"]
        assert loom.places["fuse.1"] == PLACE

    def test_a_wire_is_laid_thicker_between_two_of_its_ends_and_is_otherwise_as_it_was(self) -> None:
        old = LOOM.find("B")
        middle = Renew("B", 1, 2, 4.0, old.mm2, ("q:b", "p:c")).apply(LOOM).find("B")
        assert middle == old.model_copy(update={"mm2": (1.0, 4.0, 3.0)})
        whole = Renew("B", 0, 3, 4.0, old.mm2, ("p:b", "earth:z")).apply(LOOM).find("B")
        assert [whole.leg_mm2(leg) for leg in range(3)] == [4.0, 4.0, 4.0]

    def test_one_leg_of_a_wire_of_one_size_is_laid_thicker_and_the_others_stay(self) -> None:
        plain = Wire.model_validate(
            {"wire": "D", "colour": "GY", "mm2": 1, "metres": 1, "ends": ["p:e", "q:e", "q:f"]}
        )
        loom = Add(plain, None).apply(LOOM)
        renew = Renew("D", 0, 1, 2.5, plain.mm2, ("p:e", "q:e"))
        assert renew.apply(loom).find("D").mm2 == (2.5, 1.0)
        assert renew.undo(renew.apply(loom)) == loom

    def test_another_fuse_is_put_in_and_the_old_one_put_back(self) -> None:
        first = ChangeFuse("q:b", 10.0, 25.0)
        assert first.apply(LOOM).fuses == {"p:c": 8, "q:c": 16, "q:b": 10}
        again = ChangeFuse("q:c", 10.0, 16.0, old=16.0)
        assert again.apply(LOOM).fuses["q:c"] == 10 and again.undo(again.apply(LOOM)) == LOOM

    def test_a_hold_changes_nothing_in_the_end(self) -> None:
        assert Hold("A", 0, "p:a").apply(LOOM) is LOOM and Hold("A", 0, "p:a").undo(LOOM) is LOOM

    def test_a_new_end_is_known_because_the_restorer_makes_it(self) -> None:
        end = new_end("p:x", "ring-6")
        assert (end.at, end.fitting, end.known, end.covered) == ("p:x", "ring-6", "measured", False)

    def test_the_loom_before_is_left_as_it_was(self) -> None:
        whole = LOOM.model_copy(deep=True)
        REMOVE.apply(LOOM)
        assert whole == LOOM


class TestLastWords:
    def steps(self, *operations: Operation) -> list[Operation]:
        return [s.operation for s in last_words([Step(o, Reason("rule", ("fact",))) for o in operations])]

    def test_of_one_end_only_what_was_said_last_counts(self) -> None:
        first, cover = Move("A", 0, "p:a", "p:x"), Cover("p:a", "A", 0)
        again = Move("A", 0, "p:a", "p:y", "loose", uncovers=True)
        assert self.steps(first, cover, again) == [again]

    def test_of_one_part_only_how_it_is_fitted_last_counts(self) -> None:
        first, again = Fit("p", PLACE), Fit("p", PLACE, over=PLACE)
        assert self.steps(REMOVE, first, again) == [REMOVE, again]

    def test_of_one_fuse_and_of_the_same_legs_only_what_was_put_in_last_counts(self) -> None:
        fuse, legs = ChangeFuse("q:b", 10, 25), Renew("A", 0, 1, 2.5, (1.0,), ("p:a", "q:a"))
        again, other = ChangeFuse("q:b", 15, 10, old=10), Renew("B", 0, 1, 2.5, (1.0,), ("p:b", "q:b"))
        thicker = Renew("A", 0, 1, 4.0, (2.5,), ("p:a", "q:a"))
        assert self.steps(fuse, legs, again, other, thicker) == [again, other, thicker]

    def test_everything_else_stays_in_its_order(self) -> None:
        steps = (Cover("p:x"), Move("A", 0, "p:a", "p:x"), Move("A", 1, "q:a", "p:x"), Piggyback("p:x"),
                 Piggyback("p:x"), Cover("p:y"))  # fmt: skip
        assert self.steps(*steps) == list(steps)


# -- any number of operations --------------------------------------------------------------------------------


Work = tuple[Sequence[Operation], Loom]


@st.composite
def work(draw: st.DrawFn) -> Work:
    """Operations one after another, each drawn from what the loom then allows, and the loom after."""
    loom, done = LOOM, []
    for number in range(draw(st.integers(1, 8))):
        kind = draw(st.sampled_from(sorted(DRAWN)))
        operation = DRAWN[kind](draw, loom, number)
        if operation is not None:
            done.append(operation)
            loom = operation.apply(loom)
    return done, loom


def _with_ends(loom: Loom) -> list[str]:
    """Wires that are not cut away altogether."""
    return [wire.wire for wire in loom.wires if wire.ends]


def _end(draw: st.DrawFn, loom: Loom) -> tuple[str, int]:
    wire = draw(st.sampled_from(_with_ends(loom)))
    return wire, draw(st.integers(0, len(loom.find(wire).ends) - 1))


def _place(draw: st.DrawFn, loom: Loom) -> str:
    return draw(st.sampled_from(sorted(loom.places)))


def _remove(draw: st.DrawFn, loom: Loom, number: int) -> Operation | None:
    if not loom.places:
        return None
    place = _place(draw, loom)
    mine = f"{place}:"
    return Remove(
        place,
        loom.places[place],
        tuple(loom.ends_of_place(place)),
        tuple(a for a in loom.piggybacks if a.startswith(mine)),
        tuple(a for a in loom.covered if a.startswith(mine)),
        tuple((a, amps) for a, amps in loom.fuses.items() if a.startswith(mine)),
    )


def _move(draw: st.DrawFn, loom: Loom, number: int) -> Operation | None:
    if not _with_ends(loom):
        return None
    wire, end = _end(draw, loom)
    now = loom.find(wire).ends[end]
    to = draw(st.sampled_from(["p:x", "q:a", "earth:z", "loose"]))
    return Move(wire, end, now.at, to, now.at, uncovers=now.covered)


def _cover(draw: st.DrawFn, loom: Loom, number: int) -> Operation | None:
    if _with_ends(loom) and draw(st.booleans()):
        wire, end = _end(draw, loom)
        return None if loom.find(wire).ends[end].covered else Cover("p:a", wire, end)
    return Cover(f"p:bare-{number}")


def _cut(draw: st.DrawFn, loom: Loom, number: int) -> Operation | None:
    loose = loom.ends_at.get("loose", ())
    if not loose:
        return None
    wire, end = draw(st.sampled_from(loose))
    return Cut(wire, end, "p:a", f"joint:cut-{number}")


def _join(draw: st.DrawFn, loom: Loom, number: int) -> Operation | None:
    loose = loom.ends_at.get("loose", ())
    return Join(tuple((w, n, "p:a") for w, n in loose), f"joint:{number}") if loose else None


def _re_end(draw: st.DrawFn, loom: Loom, number: int) -> Operation | None:
    if not _with_ends(loom):
        return None
    wire, end = _end(draw, loom)
    return ReEnd(wire, end, "p:x", "bullet", loom.find(wire).ends[end].fitting)


def _extend(draw: st.DrawFn, loom: Loom, number: int) -> Operation | None:
    if not _with_ends(loom):
        return None
    wire, end = _end(draw, loom)
    found = loom.find(wire)
    return Extend(wire, end, "p:x", 0.3, found.ends[end].spare_metres, found.metres)


def _insert(draw: st.DrawFn, loom: Loom, number: int) -> Operation | None:
    if not _with_ends(loom):
        return None
    wire, end = _end(draw, loom)
    was = loom.find(wire).ends[end].at
    lead = LEAD.model_copy(
        update={"wire": f"lead-{number}", "ends": (new_end(f"f{number}:out", None), new_end(was, None))}
    )
    return Insert(wire, end, was, f"f{number}", PLACE, "in", lead)


def _add(draw: st.DrawFn, loom: Loom, number: int) -> Operation | None:
    return Add(NEW.model_copy(update={"wire": f"new-{number}"}), None)


def _renew(draw: st.DrawFn, loom: Loom, number: int) -> Operation | None:
    whole = [wire for wire in loom.wires if len(wire.ends) > 1]
    if not whole:
        return None
    wire = draw(st.sampled_from(whole))
    first = draw(st.integers(0, len(wire.ends) - 2))
    last = draw(st.integers(first + 1, len(wire.ends) - 1))
    return Renew(wire.wire, first, last, 6.0, wire.mm2, (wire.ends[first].at, wire.ends[last].at))


def _change_fuse(draw: st.DrawFn, loom: Loom, number: int) -> Operation | None:
    at = draw(st.sampled_from(["p:c", "q:c", "q:b"]))
    return ChangeFuse(at, float(number + 5), 25.0, loom.fuses.get(at))


DRAWN: dict[str, Callable[[Any, Loom, int], Operation | None]] = {
    "remove": _remove,
    "fit": lambda draw, loom, number: Fit(f"new.{number}", PLACE),
    "move": _move,
    "cover": _cover,
    "cut": _cut,
    "piggyback": lambda draw, loom, number: Piggyback(draw(st.sampled_from(["p:a", "q:a", "q:b"]))),
    "join": _join,
    "re-end": _re_end,
    "extend": _extend,
    "insert": _insert,
    "add": _add,
    "renew": _renew,
    "fuse": _change_fuse,
}


@given(work())
def test_undoing_all_in_reverse_restores_the_loom_exactly(drawn: Work) -> None:
    operations, loom = drawn
    for operation in reversed(operations):
        loom = operation.undo(loom)
    assert loom == LOOM
    assert list(loom.wire_index) == list(LOOM.wire_index)


@given(work())
def test_the_look_up_tables_of_a_changed_loom_say_what_its_wires_say(drawn: Work) -> None:
    operations, loom = drawn
    assert is_sound(loom)
    for operation in reversed(operations):
        loom = operation.undo(loom)
        assert is_sound(loom)


def test_a_place_that_names_marks_of_a_list_can_be_told_apart_from_another() -> None:
    place = Place(part="flasher", zone="dash", marks={"BAT": "49"})
    again = Place(part="flasher", zone="dash", marks={"BAT": "49"})
    other = Place(part="flasher", zone="bay", marks={"BAT": "49"})
    assert len({place, again, other}) == 2
