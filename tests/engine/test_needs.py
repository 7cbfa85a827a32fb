"""What a swap leaves open, as far as it can be seen without a circuit."""

from collections.abc import Mapping, Sequence
from typing import Any

from choice import make_part

from planner.engine.needs import NeedFinder, swap_operations
from planner.model.catalogue import Catalogue
from planner.model.delta import Add, Cover, Fit, Move, Operation, Piggyback, ReEnd, Remove, new_end
from planner.model.job import Job
from planner.model.loom import Loom, Wire
from planner.model.need import BareTerminal, FullTerminal, LooseEnd, ShortReach, WireToMake, WrongFitting
from planner.model.part import Part

OLD = make_part("old", "abc", holds=2)
NEW = Part.model_validate(
    {
        "part": "new",
        "title": "The new part",
        "family": "small",
        "source": "invented",
        "terminals": {
            "x": {},
            "y": {"fitting": "screw"},
            "far": {"further_metres": 0.3},
            "shy": {"covered": True},
            "hungry": {"covered": True, "wants": "live"},
            "case": {"role": "31", "by": "mounting"},
        },
    }
)
NEW_WIRE = Wire.model_validate(
    {"wire": "new-1", "colour": "BK", "mm2": 1, "metres": 1, "ends": ["p:x", "earth:z"]}
)
FIT = {"at": "p", "fit": "new"}


class Case:
    """A job on a tiny loom, its parts swapped, and some more operations done."""

    def __init__(
        self,
        *operations: Operation,
        swaps: Sequence[Mapping[str, Any]] = (FIT,),
        other_zone: str = "z",
        **place: Any,
    ) -> None:
        self.before = Loom.model_validate(
            {
                "loom": "tiny",
                "supply": {"volts": 12, "earthed": "negative"},
                "zones": {"z": {}, "y": {}},
                "routes": [{"from": "z", "to": "y", "metres": 1.6}],
                "places": {
                    "p": {"part": "old", "zone": "z", "title": "the place", **place},
                    "q": {"part": "old", "zone": other_zone},
                },
                "piggybacks": ["p:a", "q:a"],
                "covered": ["p:b", "q:b"],
                "wires": [
                    {"wire": "A", "colour": "RD", "mm2": 1, "metres": 1, "ends": ["p:a", "q:a"]},
                    {"wire": "C", "colour": "GN", "mm2": 1, "metres": [1, 1], "ends": ["q:c", "p:c", "p:a"]},
                ],
            }
        )
        self.job = Job.model_validate({"job": "j", "loom": "tiny", "swaps": list(swaps)})
        self.catalogue = Catalogue({}, {}, {"old": OLD, "new": NEW}, {}, {}, {})
        self.swapped = tuple(swap_operations(self.before, self.job, self.catalogue.parts))
        self.loom = self.before
        for operation in (*self.swapped, *operations):
            self.loom = operation.apply(self.loom)
        self.finder = NeedFinder(self.before, self.catalogue, self.job)


class TestSwapOperations:
    def test_a_part_is_taken_out_with_all_its_ends_and_the_other_put_in_its_place(self) -> None:
        remove, fit = Case().swapped
        assert isinstance(remove, Remove) and isinstance(fit, Fit)
        assert remove.ends == (("A", 0, "a"), ("C", 1, "c"), ("C", 2, "a"))
        assert (remove.piggybacks, remove.covered) == (("p:a",), ("p:b",))
        assert (fit.place.part, fit.place.zone, fit.place.title) == ("new", "z", "the place")

    def test_the_new_part_is_mounted_as_the_old_one_unless_the_job_says_otherwise(self) -> None:
        assert _fit(Case(mounting="doubtful")).place.mounting == "doubtful"
        assert _fit(Case(swaps=[{**FIT, "mounting": "metal"}], mounting="doubtful")).place.mounting == "metal"

    def test_a_new_place_takes_zone_mounting_and_title_from_the_job(self) -> None:
        swap = {"at": "new.place", "fit": "new", "zone": "z", "mounting": "insulated", "title": "here"}
        (fit,) = Case(swaps=[swap]).swapped
        assert isinstance(fit, Fit)
        assert (fit.place.zone, fit.place.mounting, fit.place.title) == ("z", "insulated", "here")

    def test_a_removal_leaves_the_ends_loose_and_fits_nothing(self) -> None:
        case = Case(swaps=[{"at": "p", "fit": "nothing"}])
        assert [operation.do for operation in case.swapped] == ["remove"]
        assert "p" not in case.loom.places and len(case.loom.ends_at["loose"]) == 3

    def test_swaps_come_in_the_order_of_the_job(self) -> None:
        swaps = [{"at": "q", "fit": "new"}, FIT]
        assert [getattr(o, "at", "") for o in Case(swaps=swaps).swapped] == ["q", "q", "p", "p"]


class TestLooseEnds:
    def test_every_end_of_the_part_taken_out_is_asked_for_by_where_it_sat(self) -> None:
        case = Case()
        found = [LooseEnd("A", 0, "p:a"), LooseEnd("C", 2, "p:a"), LooseEnd("C", 1, "p:c")]
        assert sorted(case.finder.loose_ends(case.loom), key=str) == sorted(found, key=str)

    def test_an_end_that_is_landed_or_covered_is_not(self) -> None:
        case = Case(Move("A", 0, "p:a", "p:x"), Cover("p:c", "C", 1))
        assert list(case.finder.loose_ends(case.loom)) == [LooseEnd("C", 2, "p:a")]


class TestTerminals:
    def test_a_terminal_with_more_ends_than_it_holds_is_full(self) -> None:
        case = Case(Move("A", 0, "p:a", "p:x"), Move("C", 2, "p:a", "p:x"))
        assert list(case.finder.full_terminals(case.loom)) == [FullTerminal("p:x", (("A", 0), ("C", 2)))]

    def test_a_piggyback_makes_room_for_one_more(self) -> None:
        case = Case(Move("A", 0, "p:a", "p:x"), Move("C", 2, "p:a", "p:x"), Piggyback("p:x"))
        assert list(case.finder.full_terminals(case.loom)) == []

    def test_bare_terminals_of_a_fitted_part_are_asked_for_but_not_those_its_housing_covers(self) -> None:
        """But one that has to be fed is, wherever it sits."""
        case = Case(Move("A", 0, "p:a", "p:x"))
        assert list(case.finder.bare_terminals(case.loom)) == [
            BareTerminal(f"p:{mark}") for mark in ("y", "far", "hungry")
        ]

    def test_a_terminal_that_the_plan_covers_is_settled(self) -> None:
        case = Case(Move("A", 0, "p:a", "p:x"), Cover("p:y"))
        assert list(case.finder.bare_terminals(case.loom)) == [
            BareTerminal("p:far"),
            BareTerminal("p:hungry"),
        ]

    def test_a_mounting_is_asked_for_only_where_it_does_not_surely_earth(self) -> None:
        for mounting, asked in (("metal", False), ("doubtful", True), ("insulated", True)):
            case = Case(mounting=mounting)
            assert (BareTerminal("p:case") in case.finder.bare_terminals(case.loom)) is asked


class TestEnds:
    def needs(self, *operations: Operation, made: frozenset[str] = frozenset()) -> list[object]:
        case = Case(*operations)
        return list(case.finder.end_needs(case.loom, made, {"new-1": "31"}))

    def test_an_end_whose_fitting_does_not_go_on_is_asked_for(self) -> None:
        assert self.needs(Move("A", 0, "p:a", "p:y")) == [WrongFitting("A", 0, "p:y")]

    def test_a_new_terminal_on_the_end_settles_it(self) -> None:
        assert self.needs(Move("A", 0, "p:a", "p:y"), ReEnd("A", 0, "p:y", "bare", None)) == []

    def test_an_end_that_fits_and_reaches_is_not_asked_for(self) -> None:
        assert self.needs(Move("A", 0, "p:a", "p:x")) == []

    def test_a_terminal_further_away_than_the_end_can_spare_is_asked_for_with_what_is_missing(self) -> None:
        assert self.needs(Move("A", 0, "p:a", "p:far")) == [ShortReach("A", 0, "p:far", 0.25)]

    def test_an_end_that_is_led_into_a_joiner_in_another_zone_is_asked_for_with_the_way_there(self) -> None:
        """The joiner lies where its other ends are; within one zone all of them reach it."""
        joint = "joint:p.a"
        joined = (Move("A", 0, "p:a", joint), Move("C", 2, "p:a", joint), Move("C", 0, "q:c", joint))
        short = [ShortReach("C", 0, joint, 2.25)]  # (1.6 + 0.4) m and slack, less what is spare
        for zone, asked in (("z", []), ("y", short)):
            case = Case(*joined, other_zone=zone)
            needs = case.finder.end_needs(case.loom, frozenset(), {})
            assert [need for need in needs if isinstance(need, ShortReach)] == asked

    def test_an_end_that_goes_elsewhere_with_its_part_is_drawn_back_as_far_as_its_wire_reaches(self) -> None:
        swaps = [{"at": "p", "fit": "nothing"}, {"at": "n", "fit": "new", "zone": "y"}]
        for zone, metres in (("y", []), ("z", [1.25])):  # 2.3 m to q, of which the wire has 1 and a little
            case = Case(Move("A", 0, "p:a", "n:x"), swaps=swaps, other_zone=zone)
            needs = case.finder.end_needs(case.loom, frozenset(), {})
            assert [need.metres for need in needs if isinstance(need, ShortReach)] == metres

    def test_a_joiner_of_one_end_from_each_zone_lies_where_its_new_wire_leads(self) -> None:
        joint = "joint:p.a"
        wire = Wire.model_validate(
            {"wire": "new-1", "colour": "BK", "mm2": 1, "metres": 1, "ends": [joint, "p:x"]}
        )
        case = Case(Move("A", 1, "q:a", joint), Move("C", 1, "p:c", joint), Add(wire, "30"), other_zone="y")
        needs = case.finder.end_needs(case.loom, frozenset({"new-1"}), {})
        assert [need for need in needs if isinstance(need, ShortReach)] == [ShortReach("A", 1, joint, 2.25)]

    def test_a_new_wire_is_asked_for_until_it_is_made(self) -> None:
        assert self.needs(Add(NEW_WIRE, "31")) == [WireToMake("new-1", "31")]
        assert self.needs(Add(NEW_WIRE, "31"), made=frozenset({"new-1"})) == []

    def test_a_new_wire_that_goes_on_another_terminal_than_it_was_made_for_is_asked_for(self) -> None:
        """A part in line took its end over; else the list would name the wrong terminal to crimp."""
        made = NEW_WIRE.model_copy(update={"ends": (new_end("p:y", "blade-6.3"), NEW_WIRE.ends[1])})
        needs = self.needs(Add(made, "31"), made=frozenset({"new-1"}))
        assert needs == [WrongFitting("new-1", 0, "p:y")]
        there = ReEnd("new-1", 0, "p:y", "screw", "blade-6.3")
        assert self.needs(Add(made, "31"), there, made=frozenset({"new-1"})) == []

    def test_wires_that_the_job_does_not_touch_are_not_looked_at(self) -> None:
        assert self.needs() == []


def _fit(case: Case) -> Fit:
    (fit,) = [operation for operation in case.swapped if isinstance(operation, Fit)]
    return fit
