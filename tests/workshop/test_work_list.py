"""The work list: its order, its names, its words, and a card for each part."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import pytest
from planned import catalogue as shipped
from small_work import (
    ADD,
    COVER,
    FIT,
    MADE,
    MAKE,
    MOVE,
    NEW_PLACE,
    NOMINAL,
    PARTS,
    REMOVE,
    STAY,
    card,
    listed,
    work_list,
)
from taken_back import undo

from planner.engine.costs import MINUTES
from planner.model.catalogue import Catalogue
from planner.model.delta import (
    Add,
    ChangeFuse,
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
    new_end,
    with_end,
)
from planner.model.elements import Fuse
from planner.model.facts import Facts
from planner.model.job import Job
from planner.model.loom import Loom, Place, Wire
from planner.workshop.ends.tied_back import live_ends
from planner.workshop.materials.labels import labels
from planner.workshop.materials.pieces import pieces
from planner.workshop.papers.papers import tied_back as papers_of_ends
from planner.workshop.papers.replay import replay
from planner.workshop.steps.worklist import WorkList


class TestOrder:
    def test_what_frees_a_terminal_comes_before_what_needs_it_and_new_wires_last(self) -> None:
        chosen = (
            REMOVE, FIT, COVER, ADD, MAKE, MOVE, Piggyback("dash.switch:53"), Hold("W2", 1, "dash.switch:M"),
            ReEnd("W2", 1, "dash.switch:53", "blade-6.3", None),
            Extend("W2", 1, "dash.switch:53", 0.3, 0.05, (0.9, 0.3)),
        )  # fmt: skip
        assert [s.do for s in listed(*chosen)] == [
            "hold", "remove", "cover", "fit", "extend", "re-end", "piggyback", "move", "add"
        ]  # fmt: skip

    def test_steps_are_numbered_from_one(self) -> None:
        assert [s.n for s in listed(REMOVE, FIT, MOVE, COVER)] == [1, 2, 3, 4]

    def test_the_places_come_in_the_order_of_the_job_each_with_all_its_steps(self) -> None:
        other = Place(part="fuse", zone="dash", title="other part")
        chosen = (REMOVE, Remove("q", other, ()), FIT, Fit("q", other), ADD, MAKE, MOVE, COVER)
        steps = listed(*chosen, swaps=["q", "dash.switch"])
        assert [(s.do, s.place) for s in steps] == [
            ("remove", "q"), ("fit", "q"), ("remove", "dash.switch"), ("cover", "dash.switch"),
            ("fit", "dash.switch"), ("move", "dash.switch"), ("add", "dash.switch"),
        ]  # fmt: skip

    def test_an_end_that_is_moved_twice_is_moved_once(self) -> None:
        again = Move("W2", 1, "dash.switch:M", "dash.switch:x", "dash.switch:53")
        moves = [s.fields for s in listed(REMOVE, FIT, MOVE, again) if s.do == "move"]
        assert [(f["from"], f["to"]) for f in moves] == [("dash.switch:M", "dash.switch:x")]

    def test_an_end_that_was_covered_and_then_found_a_home_is_only_moved(self) -> None:
        home = Move("W3", 0, "dash.switch:S", "dash.switch:31b", "loose", uncovers=True)
        assert [s.do for s in listed(REMOVE, FIT, COVER, home)] == ["remove", "fit", "move"]

    def test_an_end_that_takes_the_place_of_another_waits_until_that_has_left(self) -> None:
        """W1 goes where W3 sat, and W3 where W1 sat: W1 is taken off and held, W3 moves, then W1."""
        one = Move("W1", 0, "dash.switch:15", "dash.switch:S")
        other = Move("W3", 0, "dash.switch:S", "dash.switch:15")
        steps = listed(REMOVE, FIT, one, other, Hold("W1", 0, "dash.switch:15"))
        assert [(s.do, s.fields.get("wire")) for s in steps] == [
            ("hold", "W1"),
            ("remove", None),
            ("fit", None),
            ("move", "W3"),
            ("move", "W1"),
        ]


def test_the_old_terminal_comes_off_before_a_wire_is_lengthened_and_the_new_one_goes_on_its_new_end() -> None:
    move, re_end = Move("W2", 2, "q:3", "q:9"), ReEnd("W2", 2, "q:9", "blade-4.8", None)
    longer = Extend("W2", 2, "q:9", 0.25, 0.05, (0.9, 0.3))
    assert [step.text for step in listed(move, longer, re_end)] == [
        "Take the yellow/black wire (W2) off 3 on the other part, cut its old terminal off, and lengthen it "
        "by 0.25 m (10 in) with a piece of yellow/black, 1 mm2 (AWG 16), joined in an insulated joiner",
        "Crimp a 4.8 mm push-on terminal on the new end of the yellow/black wire (W2), for 9 on the other "
        "part",
        "Put the yellow/black wire (W2), off 3 on the other part since step 1, on 9",
    ]
    work = work_list(move, longer)
    (piece,) = pieces(work.names, work.ordered)
    assert len(piece.crimps) == 1  # nothing else gives the new end its terminal


@pytest.mark.parametrize(
    ("mounting", "is_said"), [("metal", True), ("insulated", False), ("doubtful", False)]
)
def test_a_part_that_its_fixing_earths_wants_bare_metal_there(mounting: str, is_said: bool) -> None:
    place = NEW_PLACE.model_copy(update={"mounting": mounting})
    (fit,) = [step for step in listed(REMOVE, Fit("dash.switch", place)) if step.do == "fit"]
    assert ("bare metal under its fixing, which is its earth" in fit.text) is is_said


def test_an_end_that_is_still_on_comes_off_before_it_is_crimped() -> None:
    move, bare = Move("W2", 2, "q:3", "q:9"), ReEnd("W2", 2, "q:9", "bare", None)
    (crimp, _) = listed(move, bare)
    assert crimp.text == (
        "Take the yellow/black wire (W2) off 3 on the other part, cut its old terminal off and strip the "
        "end, for 9 on the other part"
    )


def test_two_piggybacks_on_one_terminal_are_ticked_one_by_one() -> None:
    two = listed(REMOVE, FIT, Piggyback("dash.switch:53"), Piggyback("dash.switch:53"))
    assert [s.id for s in two if s.do == "piggyback"] == [
        "piggyback dash.switch:53",
        "piggyback dash.switch:53 2",
    ]


def test_an_end_that_gets_another_terminal_twice_is_crimped_once_with_the_last() -> None:
    """A relay takes over an end that was made ready for another terminal."""
    first = ReEnd("W2", 1, "dash.switch:53", "bare", None)
    then = ReEnd("W2", 1, "dash.switch:31b", "blade-4.8", "bare")
    work = work_list(REMOVE, FIT, MOVE, first, Move("W2", 1, "dash.switch:M", "dash.switch:31b"), then)
    assert [s.fields["fitting"] for s in work.steps() if s.do == "re-end"] == ["blade-4.8"]
    assert replay(work.work, work.ordered)[-1].after == work.names.after


class TestStays:
    def test_an_end_that_stays_on_its_mark_is_no_step_but_part_of_fitting(self) -> None:
        steps = listed(REMOVE, FIT, STAY)
        assert [s.do for s in steps] == ["remove", "fit"]
        assert steps[1].text.endswith("on the same terminals: orange (W1) on 15")

    def test_fitting_counts_the_ends_that_stay(self) -> None:
        plain, staying = listed(REMOVE, FIT)[1], listed(REMOVE, FIT, STAY)[1]
        assert (plain.minutes, staying.minutes) == (15, 15 + MINUTES["move"])


class TestNewWires:
    def test_new_wires_are_named_in_their_order_and_never_like_a_wire_that_is_there(self) -> None:
        second = NOMINAL.model_copy(update={"wire": "new-2"})
        names = [s.fields["wire"] for s in listed(REMOVE, FIT, ADD, Add(second, "31"))[2:]]
        assert names == ["N2", "N3"]  # N1 is a wire of the loom

    def test_a_new_wire_is_one_step_with_how_it_is_made(self) -> None:
        (step,) = [s for s in listed(REMOVE, FIT, ADD, MAKE) if s.do == "add"]
        assert dict(step.fields) == {
            "wire": "N2", "from": "dash.switch:x", "to": "earth:dash", "colour": "BK/WH", "mm2": 1.5,
            "metres": 0.46, "fittings": ["blade-6.3", "ring-6"], "from_stock": False, "tagged": False,
        }  # fmt: skip
        assert step.because == ("rule-add", "rule-make")
        assert step.facts == ("a fact about add", "a fact about make")
        assert step.text == (
            "Make N2: black/white, 1.5 mm2 (AWG 14), 0.46 m (1 ft 7 in), from x on the wiper switch, dash "
            "(a 6.3 mm push-on terminal) to earth, dashboard (an M6 ring)"
        )

    def test_a_finished_lead_is_used_and_a_bridge_tagged(self) -> None:
        bridge = (Add(NOMINAL, "31", tagged=True), Make(MADE, NOMINAL, lead=0))
        (step,) = [s for s in listed(REMOVE, FIT, *bridge) if s.do == "add"]
        assert step.fields["from_stock"] and step.fields["tagged"]
        assert step.text.startswith("Use the finished lead N2") and step.text.endswith("; tag it for removal")


JOINED = Join((("W2", 1, "dash.switch:M"), ("W3", 0, "dash.switch:S")), "joint:dash.1")
LEAD = Wire.model_validate(
    {"wire": "lead-1", "colour": "OG", "mm2": 1.5, "metres": 0.15, "ends": ["fuse.1:out", "dash.switch:15"]}
)
INSERT = Insert("W1", 0, "dash.switch:15", "fuse.1", Place(part="fuse", zone="dash"), "in", LEAD)


@pytest.mark.parametrize(
    ("operations", "text", "fields"),
    [
        ((REMOVE,), "Take out the wiper switch, dash: the old part", {"at": "dash.switch", "part": "old"}),
        (
            (REMOVE, Fit("dash.switch", NEW_PLACE.model_copy(update={"mounting": "insulated"}))),
            "Fit the new part at the wiper switch, dash: late switch (insulated mounting)",
            {"at": "dash.switch", "part": "new"},
        ),
        (
            (REMOVE, FIT, MOVE),
            "Put the yellow wire (W2), off M on the wiper switch, dash since step 1, on 53",
            {"wire": "W2", "from": "dash.switch:M", "to": "dash.switch:53", "colour": "YE", "mm2": 1.5,
             "metres": 0.9},
        ),
        (
            (REMOVE, FIT, Move("W2", 2, "q:3", "dash.switch:53", "q:3")),
            "Move the yellow/black wire (W2) from 3 on the other part to 53 on the wiper switch, dash",
            {"wire": "W2", "from": "q:3", "to": "dash.switch:53", "colour": "YE/BK", "mm2": 1.0,
             "metres": 0.3},
        ),
        (
            (REMOVE, FIT, COVER),
            "Insulate and tie back the yellow/black wire (W3) that was on S on the wiper switch, dash; "
            "tag it",
            {"wire": "W3", "at": "dash.switch:S", "colour": "YE/BK", "mm2": 1.0, "metres": 0.7},
        ),
        (
            (REMOVE, FIT, Cover("dash.switch:x")),
            "Cover the bare terminal x on the wiper switch, dash",
            {"at": "dash.switch:x"},
        ),
        (
            (REMOVE, FIT, Piggyback("dash.switch:53")),
            "Fit a piggyback push-on terminal on 53 on the wiper switch, dash",
            {"at": "dash.switch:53"},
        ),
        (
            (REMOVE, FIT, JOINED),
            "Join the yellow wire (W2) with both its wires and the yellow/black wire (W3) in an insulated "
            "joiner",
            {"wires": ["W2", "W3"], "at": "joint:dash.1"},
        ),
        (
            (REMOVE, FIT, ReEnd("W2", 1, "dash.switch:53", "blade-4.8", "bare")),
            "Re-end the yellow wire (W2) with a 4.8 mm push-on terminal for 2.5 mm2 (AWG 12), both its wires "
            "in one crimp, for 53 on the wiper switch, dash",
            {"wire": "W2", "at": "dash.switch:53", "fitting": "blade-4.8", "old_fitting": "bare",
             "colour": "YE", "mm2": 1.5, "metres": 0.9},
        ),
        (
            (REMOVE, FIT, Extend("W2", 1, "dash.switch:53", 0.25, 0.05, (0.9, 0.3))),
            "Cut the old terminal off the yellow wire (W2), and lengthen it by 0.25 m (10 in) with a piece "
            "of yellow, 1.5 mm2 (AWG 14) and one of yellow/black, 1 mm2 (AWG 16), joined in an insulated "
            "joiner; crimp an end like the old one on its new end",
            {"wire": "W2", "at": "dash.switch:53", "by_metres": 0.25, "colour": "YE", "mm2": 1.5,
             "metres": 1.15},
        ),
        (
            (REMOVE, FIT, Hold("W2", 1, "dash.switch:M")),
            "Take the yellow wire (W2) off M on the wiper switch, dash, insulate it and keep it aside",
            {"wire": "W2", "at": "dash.switch:M", "colour": "YE", "mm2": 1.5, "metres": 0.9},
        ),
        (
            (REMOVE, FIT, STAY, INSERT),
            "Put a fuse between the orange wire (W1) and 15 on the wiper switch, dash; the wire on 'in'; the "
            "lead N2: orange, 1.5 mm2 (AWG 14), 0.15 m (6 in), a 6.3 mm push-on terminal at each end, from "
            "'out' to there",
            {"wire": "W1", "part": "fuse", "at": "dash.switch:15", "lead": "N2", "colour": "OG", "mm2": 1.5,
             "metres": 0.5},
        ),
        (
            (REMOVE, FIT, ChangeFuse("q:out", 10.0, 25.0)),
            "Lay a fuse of 10 A ready for 'out' on the other part, in place of the one of 25 A; it goes in "
            "at first power",
            {"at": "q:out", "amps": 10.0, "old_amps": 25.0},
        ),
        (
            (REMOVE, FIT, MOVE, Renew("W2", 0, 2, 2.5, (1.5, 1.0), ("q:in", "q:3"))),
            "Lay a thicker wire in place of the yellow wire (W2): yellow, 2.5 mm2 (AWG 12) for 1 and 1.5, "
            "1.2 m (4 ft), an end to suit at each end, from 2 on the other part to 3 on the other part; draw "
            "the old one out, or tie both its ends back and tag them",
            {"wire": "W2", "from": "q:2", "to": "q:3", "colour": "YE", "mm2": 2.5, "old_mm2": [1.5, 1.0],
             "metres": 1.2, "fittings": [None, None]},
        ),
    ],
    ids=lambda value: value[-1].do if isinstance(value, tuple) else "",
)  # fmt: skip
def test_each_kind_of_step_in_words_and_fields(
    operations: Sequence[Operation], text: str, fields: Mapping[str, Any]
) -> None:
    (step,) = [s for s in listed(*operations) if s.do == operations[-1].do]
    assert step.text == text
    assert dict(step.fields) == fields
    assert step.source == "invented" and step.because and step.facts


def test_only_a_cut_and_a_new_terminal_cannot_be_undone() -> None:
    chosen = (
        REMOVE,
        FIT,
        Cut("W2", 1, "dash.switch:M", "joint:dash.switch.M"),
        ReEnd("W3", 0, "q:x", "bare", None),
        COVER,
    )
    assert {s.do: s.reversible for s in listed(*chosen)} == {
        "remove": True, "fit": True, "cut": False, "re-end": False, "cover": True
    }  # fmt: skip


def diode_in(wire: str, end: int) -> Insert:
    """A diode put into a wire at the wiper switch."""
    at, lead = (
        "dash.switch.diode",
        MADE.model_copy(
            update={
                "wire": "lead-diode",
                "ends": (new_end("dash.switch.diode:k", None), new_end("dash.switch:15", None)),
            }
        ),
    )
    return Insert(wire, end, "dash.switch:15", at, Place(part="diode", zone="dash", title="diode"), "a", lead)


def test_what_lets_current_through_one_way_only_says_which_way_round_it_goes() -> None:
    (step,) = [s for s in listed(REMOVE, FIT, STAY, diode_in("W1", 0)) if s.do == "insert"]
    assert "and 15 on the wiper switch, dash; the wire on a; the lead N2" in step.text
    band = "the band round it, its cathode, is towards"
    assert step.text.endswith(f" from k to there; {band} 15 on the wiper switch, dash; screwed to bare metal")
    turned = diode_in("W1", 0)
    lead = turned.lead.model_copy(update={"ends": (new_end(f"{turned.at}:a", None), *turned.lead.ends[1:])})
    (step,) = [
        s for s in listed(REMOVE, FIT, STAY, replace(turned, enters="k", lead=lead)) if s.do == "insert"
    ]
    assert f"{band} the wire; screwed" in step.text


def test_an_end_that_comes_from_elsewhere_is_told_from_where() -> None:
    (step,) = [s for s in listed(REMOVE, FIT, diode_in("W2", 1)) if s.do == "insert"]
    assert step.text.startswith(
        "Put a diode between the yellow wire (W2), which was on M on the wiper switch, dash, and 15 on"
    )


def test_an_end_of_a_new_wire_that_is_moved_is_made_there_with_both_reasons() -> None:
    moved = Move("new-1", 0, "dash.switch:x", "dash.switch:53", "dash.switch:x")
    steps = listed(REMOVE, FIT, ADD, MAKE, moved)
    assert [s.do for s in steps] == ["remove", "fit", "add"]
    assert steps[-1].fields["from"] == "dash.switch:53"
    assert steps[-1].because == ("rule-add", "rule-make", "rule-move")


def test_an_end_of_a_new_wire_that_gets_another_terminal_is_made_with_that_at_once() -> None:
    """Where a relay takes its end over; else the list would crimp a wire that is not there yet."""
    moved = Move("new-1", 0, "dash.switch:x", "dash.switch:53", "dash.switch:x")
    crimped = ReEnd("new-1", 0, "dash.switch:53", "blade-4.8", "blade-6.3")
    work = work_list(REMOVE, FIT, COVER, ADD, MAKE, moved, crimped)
    assert [s.do for s in work.steps()] == ["remove", "cover", "fit", "add"]
    assert work.steps()[-1].fields["fittings"] == ["blade-4.8", "ring-6"]
    assert work.steps()[-1].because == ("rule-add", "rule-make", "rule-move", "rule-re-end")
    (piece,) = pieces(work.names, work.ordered)
    assert tuple(end.fitting for end in piece.ends) == ("blade-4.8", "ring-6")
    assert replay(work.work, work.ordered)[-1].after == work.names.after


def test_a_finished_lead_that_needs_another_terminal_is_none_and_the_wire_is_made() -> None:
    crimped = ReEnd("new-1", 0, "dash.switch:x", "blade-4.8", "blade-6.3")
    work = work_list(REMOVE, FIT, COVER, ADD, Make(MADE, NOMINAL, lead=0), crimped)
    assert work.steps()[-1].text.startswith("Make N2") and not work.steps()[-1].fields["from_stock"]
    assert [piece.from_stock for piece in pieces(work.names, work.ordered)] == [False]


def test_a_part_in_line_is_there_before_the_new_wire_that_goes_on_it() -> None:
    """Else the list would ask to put a wire on a diode that is not there yet."""
    there = Move("new-1", 0, "dash.switch:x", "dash.switch:15", "dash.switch:x")
    work = work_list(REMOVE, FIT, ADD, MAKE, there, diode_in("new-1", 0))
    assert [s.do for s in work.steps()] == ["remove", "fit", "insert", "add"]
    assert "a new wire goes on a in step 4" in work.steps()[2].text
    done = replay(work.work, work.ordered)
    assert {w.wire: w for w in done[-1].after.wires} == {w.wire: w for w in work.names.after.wires}
    assert undo(done, done[-1].after) == work.names.before


class TestCards:
    def test_a_part_that_a_remedy_exchanges_has_its_card_after_those_of_the_job(self) -> None:
        other = Place(part="fuse", zone="dash", title="other part")
        made = work_list(REMOVE, FIT, Remove("q", other, ()), Fit("q", other))
        assert [card.at for card in made.cards(made.steps())] == ["dash.switch", "q"]
        assert [(s.do, s.fields["at"]) for s in made.steps()] == [
            ("remove", "dash.switch"), ("fit", "dash.switch"), ("remove", "q"), ("fit", "q")
        ]  # fmt: skip

    def test_a_card_shows_where_each_end_was_and_where_it_goes(self) -> None:
        made = card(REMOVE, FIT, STAY, MOVE, COVER, ADD, MAKE)
        assert (made.at, made.title, made.old_part, made.new_part, made.mounting) == (
            "dash.switch", "wiper switch, dash", "The old part", "Late switch", "metal"
        )  # fmt: skip
        assert [
            (r.mark, r.colour, r.wire, r.was_on, r.goes_to, r.is_changed, r.steps) for r in made.rows
        ] == [
            ("15", "orange", "W1", "15", "15 (stays)", False, ()),
            ("53", "yellow", "W2", "M", "53", True, (4,)),
            ("(31b, nothing stamped)", "", "", "", "stays empty", False, ()),
            ("x", "black/white", "N2", "new wire", "x", True, (5,)),
            ("case", "", "", "", "earth, through its mounting", False, ()),
            ("-", "yellow/black", "W3", "S", "tied back, insulated", True, (2,)),
        ]

    def test_a_covered_terminal_and_an_end_gone_elsewhere_are_told(self) -> None:
        elsewhere = Move("W2", 1, "dash.switch:M", "q:9")
        rows = {row.mark: row for row in card(REMOVE, FIT, Cover("dash.switch:x"), elsewhere).rows}
        assert (rows["x"].goes_to, rows["x"].is_changed, rows["x"].steps) == ("cover", True, (3,))
        assert (rows["-"].colour, rows["-"].goes_to) == ("yellow/black", "loose")  # W3, which nobody settled

    @pytest.mark.parametrize(
        ("mounting", "words"),
        [("doubtful", "earth through its mounting: doubtful"), ("insulated", "not earthed")],
    )
    def test_a_mounting_that_does_not_surely_earth_is_told(self, mounting: str, words: str) -> None:
        fit = Fit("dash.switch", NEW_PLACE.model_copy(update={"mounting": mounting}))
        (row,) = [row for row in card(REMOVE, fit).rows if row.mark == "case"]
        assert row.goes_to == words

    def test_a_part_taken_out_for_good_has_a_card_of_its_ends_alone(self) -> None:
        made = card(REMOVE, COVER)
        assert (made.new_part, made.mounting) == ("", "")
        assert [(row.mark, row.was_on) for row in made.rows] == [("-", "15"), ("-", "M"), ("-", "S")]

    def test_a_cut_end_is_told(self) -> None:
        cut = Cut("W3", 0, "dash.switch:S", "joint:j")
        assert [row.goes_to for row in card(REMOVE, FIT, cut).rows if row.wire == "W3"] == ["the joiner j"]


def test_a_new_wire_in_a_bundle_says_which_and_a_renewed_one_its_insulation_if_it_is_no_pvc() -> None:
    beside = Add(ADD.wire.model_copy(update={"bundle": "left wing"}), ADD.role)
    made = Make(MAKE.wire.model_copy(update={"bundle": "left wing"}), MAKE.nominal)
    added = next(s for s in listed(REMOVE, FIT, beside, made) if s.do == "add")
    assert ", with the bundle 'left wing'" in added.text and added.fields["bundle"] == "left wing"
    renew = Renew("W2", 0, 2, 2.5, (1.5, 1.0), ("q:in", "q:3"))
    plan = work_list(REMOVE, FIT, MOVE, renew, insulation="silicone")
    (renewed,) = [s for s in plan.steps() if s.do == "renew"]
    assert "2.5 mm2 (AWG 12) for 1 and 1.5, insulated with silicone or better, 1.2 m (4 ft)" in renewed.text


LIVE = "live-end-without-home"


def tied_back(
    wires: Sequence[Mapping[str, Any]], *ends: tuple[str, int], rule: str = LIVE
) -> tuple[str, ...]:
    """The words for some ends of a vehicle that came off, live before, and were covered."""
    made = tied_back_work(wires, *ends, rule=rule)
    return tuple(step.text.partition("; tag it; ")[2] for step in made.steps())


def tied_back_work(wires: Sequence[Mapping[str, Any]], *ends: tuple[str, int], rule: str = LIVE) -> WorkList:
    """The work in which those ends were covered."""
    before = Loom.model_validate(
        {
            "loom": "tiny",
            "supply": {"volts": 12, "earthed": "negative"},
            "feeds": {"feed:a": {"role": "30"}},
            "zones": {"dash": {}},
            "places": {p: {"part": "fuse", "zone": "dash"} for p in ("p", "q")},
            "wires": [{"colour": "OG", "mm2": 1, "metres": 1, **wire} for wire in wires],
        }
    )
    after, steps = before, []
    for wire, number in ends:
        cover = Cover(before.find(wire).ends[number].at, wire, number)
        off = with_end(after.find(wire), number, at="loose")
        after = cover.apply(copy_loom(after, wires=tuple(off if w.wire == wire else w for w in after.wires)))
        steps.append(Step(cover, Reason(rule, ("it is live",), "common practice, no source")))
    job = Job.model_validate({"job": "j", "loom": "tiny"})
    fuse = Fuse(element="fuse", between=("in", "out"), amps=8)
    fused = PARTS["fuse"].model_copy(update={"inside": (fuse,)})
    fused.__dict__.pop("joints", None)  # of the part without it
    parts = {**PARTS, "fuse": fused}
    catalogue = Catalogue({}, {}, parts, {}, {}, {}, load_standards=lambda: shipped().standards)
    return WorkList(before, after, steps, catalogue, job, Facts(), lambda _: 0.0)


A, B = {"wire": "A", "ends": ["p:in", "q:in"]}, {"wire": "B", "ends": ["joint:x", "q:out"]}
CHAIN = {"wire": "A", "metres": [1, 1], "ends": ["q:in", "p:in", "earth:dash"]}
FED = {"wire": "F", "ends": ["feed:a", "q:out"]}
STAYS, DEAD = "IT STAYS LIVE", "nothing feeds it any more: what it leads to is tied back as well"


@pytest.mark.parametrize(
    ("wires", "ends", "words"),
    [
        ((A, FED), (("A", 0),), (STAYS,)),
        ((A,), (("A", 0),), ("nothing feeds it any more",)),
        (
            (CHAIN,),
            (("A", 1),),
            ("leave both wires in its terminal: what lies beyond is joined through them",),
        ),
        ((CHAIN,), (("A", 0),), ("nothing feeds it any more",)),
        ((A, FED), (("A", 0), ("A", 1)), (DEAD, DEAD)),
        (({**A, "ends": ["p:in", "joint:x"]}, B, FED), (("A", 0),), (STAYS,)),
        (({**A, "ends": ["p:in", "joint:x"]}, B), (("A", 0), ("B", 1)), (DEAD, DEAD)),
        (({**A, "ends": ["p:in", "feed:a"]},), (("A", 0),), (STAYS,)),
        (({**A, "ends": ["p:in", "unknown"]},), (("A", 0),), (STAYS,)),
    ],
    ids=[
        "one end",
        "a way that nothing feeds",
        "a chain to earth",
        "the end of a chain",
        "both ends",
        "by a joiner",
        "both by a joiner",
        "a feed",
        "an end nobody saw",
    ],
)
def test_only_a_wire_that_something_can_feed_is_said_to_stay_live(
    wires: Sequence[Mapping[str, Any]], ends: Sequence[tuple[str, int]], words: tuple[str, ...]
) -> None:
    assert tied_back(wires, *ends) == words


def test_whatever_rule_ties_an_end_back_a_live_one_is_said_to_be_live() -> None:
    assert tied_back((A, FED), ("A", 0), rule="some-rule") == (STAYS,)
    assert tied_back((A,), ("A", 0), rule="some-rule") == ("",)
    assert tied_back((A, FED), ("A", 0), rule="dead-end-without-home") == ("",)


@pytest.mark.parametrize(
    ("wires", "rule", "words"),
    [
        ((A, FED), LIVE, "IT STAYS LIVE"),
        ((A, FED), "unknown-end-without-home", "TREAT IT AS LIVE"),
        ((A,), LIVE, ""),
    ],
)
def test_label_papers_and_picture_say_of_a_live_end_what_its_step_says(
    wires: Sequence[Mapping[str, Any]], rule: str, words: str
) -> None:
    made = tied_back_work(wires, ("A", 0), rule=rule)
    (label,) = labels(made.names, made.ordered)
    (papers,) = papers_of_ends(made.names, replay(made.work, made.ordered))
    after = f"; {words}" if words else ""
    assert label.note == f"tied back{after}" and papers == f"the orange wire (A), was on 'in' on the p{after}"
    assert dict(live_ends(made.names)) == ({("A", 0): words} if words else {})
