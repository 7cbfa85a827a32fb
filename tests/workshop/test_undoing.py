"""How each kind of step is taken back, in words, and what the vehicle's papers say."""

from collections.abc import Sequence

import pytest
from planned import benched
from small_work import (
    ADD,
    COVER,
    FIT,
    MAKE,
    MOVE,
    NEW_PLACE,
    OLD_PLACE,
    REMOVE,
    STAY,
    work_list,
)

from planner.model.bench_sheet import UndoLine
from planner.model.delta import (
    ChangeFuse,
    ChangeSupply,
    Cover,
    Cut,
    Extend,
    Fit,
    Hold,
    Insert,
    Join,
    Move,
    Operation,
    Piggyback,
    ReEnd,
    Renew,
    new_end,
)
from planner.model.loom import Place, Supply, Wire
from planner.workshop.materials.pieces import pieces
from planner.workshop.papers.added import links_added
from planner.workshop.papers.papers import exchanged, fittings_changed, tied_back
from planner.workshop.papers.replay import replay
from planner.workshop.papers.undoing import undo_lines

JOINED = Join((("W2", 1, "dash.switch:M"), ("W3", 0, "dash.switch:S")), "joint:dash.1")
SUPPLY = ChangeSupply(Supply(volts=12, earthed="negative"), Supply(volts=6, earthed="positive"))


def lines(*operations: Operation) -> tuple[UndoLine, ...]:
    work = work_list(*operations)
    return undo_lines(work.names, replay(work.work, work.ordered))


@pytest.mark.parametrize(
    ("operations", "do", "text", "cannot"),
    [
        ((SUPPLY,), "supply", "The vehicle is 6 V, positive earth again: tag its place so", ""),
        (
            (REMOVE, FIT), "remove",
            "Put the old part back at the wiper switch, dash: the old part; on it: orange (W1) on 15, "
            "yellow (W2) on M, yellow/black (W3) on S", "",
        ),
        ((REMOVE, FIT), "fit", "Take out the wiper switch, dash: late switch", ""),
        ((REMOVE, FIT, ADD, MAKE), "add", "Take the black/white wire (N2) out of the vehicle", ""),
        ((REMOVE, FIT, MOVE), "move", "Take the yellow wire (W2) off 53 on the wiper switch, dash", ""),
        (
            (Move("W2", 2, "q:3", "q:9", "q:3"),), "move",
            "Take the yellow/black wire (W2) off 9 on the other part, and put it back on 3 on the other part",
            "",
        ),
        (
            (REMOVE, FIT, COVER), "cover",
            "Untie the yellow/black wire (W3): it was on S on the wiper switch, dash", "",
        ),
        (
            (REMOVE, FIT, Cover("dash.switch:x")), "cover",
            "Take the cover off x on the wiper switch, dash", "",
        ),
        (
            (REMOVE, FIT, MOVE, Hold("W2", 1, "dash.switch:M")), "hold",
            "Put the yellow wire (W2) back on M on the wiper switch, dash", "",
        ),
        (
            (REMOVE, JOINED), "join",
            "Take the joiner off the yellow wire (W2) with both its wires and the yellow/black wire (W3); "
            "where it is crimped, cut close to it and strip these ends anew", "",
        ),
        (
            (REMOVE, FIT, MOVE, ReEnd("W2", 1, "dash.switch:53", "blade-4.8", None)), "re-end",
            "Give the yellow wire (W2) an end like the one it had again, both its wires in one crimp",
            "the old terminal is gone",
        ),
        (
            (REMOVE, FIT, Piggyback("dash.switch:53")), "piggyback",
            "Take the piggyback off 53 on the wiper switch, dash", "",
        ),
        (
            (ChangeFuse("q:out", 10.0, 25.0),), "fuse",
            "Lay the fuse of 25 A ready for 'out' on the other part; it goes in at first power", "",
        ),
        (
            (ChangeFuse("q:out", 10.0, None),), "fuse",
            "Take the fuse out: 'out' on the other part; there was none before", "",
        ),
        (
            (Renew("W2", 0, 2, 2.5, (1.5, 1.0), ("q:2", "q:3")),), "renew",
            "Take the thicker wire out, and put the yellow wire (W2) of 1.5 mm2 back",
            "if the old wire was drawn out, it has to be laid anew",
        ),
        (
            (REMOVE, FIT, MOVE, Extend("W2", 1, "dash.switch:53", 0.2, 0.05, (0.9, 0.3))), "extend",
            "Leave the yellow wire (W2) as long as it is: it does no harm",
            "the old terminal is gone, and there is a joiner in the wire",
        ),
        (
            (REMOVE, FIT, Cut("W3", 0, "dash.switch:S", "joint:dash.switch.S")), "cut",
            "Take the joiner off the yellow/black wire (W3), and crimp one terminal on both of its wires "
            "again, for S on the wiper switch, dash",
            "the old terminal is gone, and the wires are shorter by what was cut off",
        ),
    ],
    ids=lambda value: value if isinstance(value, str) and " " not in value else "",
)  # fmt: skip
def test_each_kind_of_step_has_its_way_back(
    operations: Sequence[Operation], do: str, text: str, cannot: str
) -> None:
    numbers = {step.n: step.do for step in work_list(*operations).steps()}
    (line,) = [line for line in lines(*operations) if numbers[line.step] == do]
    assert (line.text, line.cannot) == (text, cannot)


def test_the_last_step_is_taken_back_first() -> None:
    assert [line.step for line in lines(REMOVE, FIT, STAY, MOVE, COVER)] == [4, 3, 2, 1]


def test_an_end_is_remade_before_it_goes_back_on_its_terminal() -> None:
    """Its new terminal does not go on there: it comes off, gets the old kind again, and only then goes on."""
    move, re_end = Move("W2", 2, "q:3", "q:9"), ReEnd("W2", 2, "q:9", "blade-4.8", None)
    assert [line.text for line in lines(move, re_end)] == [
        "Take the yellow/black wire (W2) off 9 on the other part",
        "Give the yellow/black wire (W2) an end like the one it had again; then put it back on 3 on the "
        "other part",
    ]


def test_a_wire_that_was_lengthened_goes_back_on_when_its_end_is_as_it_was() -> None:
    move, longer = Move("W2", 2, "q:3", "q:9"), Extend("W2", 2, "q:9", 0.2, 0.05, (0.9, 0.3))
    re_end = ReEnd("W2", 2, "q:9", "blade-4.8", None)
    assert [line.text.partition("; ")[2] for line in lines(move, longer, re_end)] == [
        "", "", "then put it back on 3 on the other part"
    ]  # fmt: skip


def test_a_thicker_wire_goes_out_before_the_old_one_goes_back_on_both_terminals() -> None:
    renew, join = Renew("W2", 0, 2, 2.5, (1.5, 1.0), ("q:2", "q:3")), Join((("W2", 0, "q:2"),), "joint:q.1")
    assert [line.text for line in lines(renew, join)] == [
        "Take the joiner off the yellow wire (W2); where it is crimped, cut close to it and strip these ends "
        "anew",
        "Take the thicker wire out, and put the yellow wire (W2) of 1.5 mm2 back; then put it back on 2 on "
        "the other part",
    ]


def test_what_was_there_goes_in_again_without_the_end_that_is_remade_below() -> None:
    over = Fit("dash.switch", NEW_PLACE, OLD_PLACE)
    stay, re_end = (
        Move("W1", 0, "dash.switch:15", "dash.switch:15"),
        ReEnd("W1", 0, "dash.switch:15", "bare", None),
    )
    fit, remade = lines(over, stay, re_end)
    assert fit.text.endswith("with the same ends on it, but for the orange wire (W1), which goes on below")
    assert remade.text.endswith("again; then put it back on 15 on the wiper switch, dash")


def test_the_papers_name_what_is_tied_back_added_and_changed() -> None:
    re_end = ReEnd("W2", 1, "dash.switch:53", "blade-4.8", None)
    extend = Extend("W2", 1, "dash.switch:53", 0.2, 0.05, (0.9, 0.3))
    work = work_list(REMOVE, FIT, MOVE, COVER, re_end, extend, ADD, MAKE, Cover("dash.switch:31b"))
    done = replay(work.work, work.ordered)
    assert list(exchanged(work.names, done)) == ["wiper switch, dash: late switch, in place of the old part"]
    assert list(tied_back(work.names, done)) == [
        "the yellow/black wire (W3), was on S on the wiper switch, dash",
        "bare terminal 31b on the wiper switch, dash: covered",
    ]
    assert set(links_added(work.names, done, pieces(work.names, work.ordered))) == {
        "N2 black/white: x on the wiper switch, dash to earth, dashboard",
        "piece joined on to the yellow wire (W2), for 53 on the wiper switch, dash",
    }
    assert list(fittings_changed(work.names, done)) == [
        "the yellow wire (W2): longer by 0.2 m (8 in)",
        "the yellow wire (W2) for 53 on the wiper switch, dash: had an end that fitted the old terminal, "
        "has a 4.8 mm push-on terminal",
        "the yellow wire (W2): was on M on the wiper switch, dash, is on 53 on the wiper switch, dash",
    ]


def test_the_papers_name_another_fuse_a_part_taken_out_and_another_supply() -> None:
    heater, turned = benched("stronger-foot-heater").exchanged, benched("car-to-negative-earth").exchanged
    assert "the fuse at 1 on the fuse box, under the dash: 15 A, in place of one of 8 A" in heater
    assert turned[0] == "the supply: was 12 V, positive earth, is 12 V, negative earth"
    assert list(exchanged(work_list(REMOVE).names, ())) == ["wiper switch, dash: the old part, taken out"]


def test_a_part_in_line_goes_out_and_its_wire_back_to_where_it_was_or_off_it() -> None:
    lead = Wire.model_validate(
        {"wire": "lead-1", "colour": "OG", "mm2": 1.5, "metres": 0.15, "ends": ["q2:out", "q:2"]}
    )
    fuse = Place(part="fuse", zone="dash", title="fuse")
    (line,) = lines(Insert("W2", 0, "q:2", "q2", fuse, "in", lead))
    assert line.text == (
        "Take the fuse and its lead out, and put the yellow wire (W2) back on 2 on the other part"
    )
    to_new = lead.model_copy(update={"ends": (lead.ends[0], new_end("dash.switch:53", "blade-6.3"))})
    comes_off = lines(REMOVE, FIT, MOVE, Insert("W2", 1, "dash.switch:53", "q2", fuse, "in", to_new))
    assert "Take the fuse and its lead out, and the yellow wire (W2) off it" in [o.text for o in comes_off]


def test_studs_sleeving_and_boots_stand_in_the_papers_and_a_stud_goes_out_when_its_last_ring_is_off() -> None:
    sheet = benched("ignition-switch-without-accessory")
    added = sheet.links_added
    assert "M6 stud for the red wire (W13), the red wire (N1)" in added
    assert "sleeving over N1" in added
    back = [line.text for line in sheet.undo if "take the M6 stud out" in line.text]
    assert len(back) == 1
    turned = benched("dynamo-to-alternator")
    assert "insulating boot on B+ on the alternator" in turned.links_added
    capped = benched("stronger-heater-on-a-piggyback")
    assert sum("take the cap off the piggyback on" in line.text for line in capped.undo) == 1
    (cap,) = capped.tied_back
    assert cap.startswith("the free blade of the piggyback on 2 ") and cap.endswith(": capped")


def test_a_sender_goes_back_into_its_tank_with_a_new_gasket() -> None:
    bench = benched("fuel-gauge-and-sender")
    back = [line.text for line in bench.undo]
    (sender,) = [text for text in back if text.startswith("Put the old part back at the tank sender")]
    assert "with a new gasket for the tank sender" in sender
    out, fitted = (
        next(step.text for step in bench.plan.steps if step.text.startswith(words))
        for words in ("Take out the tank sender", "Fit the new part at the tank sender")
    )
    assert out.index("of the new sender, loose in the hand") < out.index("this opens the fuel tank")
    assert "in the hand" not in fitted
    gaskets = [line for line in bench.materials if line.what == "gasket for the tank sender"]
    assert [(line.to_buy, "way back" in line.note) for line in gaskets] == [(1, False), (1, True)]
