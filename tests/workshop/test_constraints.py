"""What must come before what in a small work, each with its reason, and a chain of reasons on request."""

from collections.abc import Sequence

from planned import catalogue as shipped
from small_work import ADD, COVER, FIT, MADE, MAKE, MOVE, NOMINAL, REMOVE, STAY, make_part, work_list
from taken_back import undo

from planner.model.bench_sheet import Demand
from planner.model.catalogue import Catalogue
from planner.model.delta import (
    Add,
    Cover,
    Extend,
    Fit,
    Hold,
    Insert,
    Make,
    Move,
    Operation,
    Piggyback,
    Reason,
    ReEnd,
    Remove,
    Step,
)
from planner.model.facts import ConductorFact, Facts
from planner.model.job import Job
from planner.model.loom import Loom, Place, Wire
from planner.workshop.order.why import chain
from planner.workshop.papers.replay import replay
from planner.workshop.steps.worklist import WorkList

BACK = Move("W1", 0, "dash.switch:15", "dash.switch:S")
THERE = Move("W3", 0, "dash.switch:S", "dash.switch:15")


def reasons(work: WorkList) -> dict[tuple[str, str], set[str]]:
    """Why a step comes before another, by what both do."""
    steps = work.steps()
    found: dict[tuple[str, str], set[str]] = {}
    for demand in work.demands:
        pair = (steps[demand.first - 1].do, steps[demand.then - 1].do)
        found.setdefault(pair, set()).add(demand.why)
    return found


def test_a_part_comes_out_before_another_goes_in_and_that_before_its_ends_go_on() -> None:
    found = reasons(work_list(REMOVE, FIT, MOVE, ADD, MAKE, Cover("dash.switch:31b")))
    assert found["remove", "fit"] == {"frees the place"}
    assert (
        found["fit", "move"] == found["fit", "add"] == found["fit", "cover"] == {"fit before its ends go on"}
    )
    assert found["remove", "move"] == {"comes off with the old part"}


def test_an_end_without_a_home_is_tied_back_before_the_new_part_goes_in() -> None:
    assert reasons(work_list(REMOVE, FIT, COVER))["cover", "fit"] == {"a free end is insulated at once"}


def test_an_end_is_lengthened_then_crimped_then_put_on() -> None:
    found = reasons(
        work_list(
            REMOVE, FIT, MOVE,
            ReEnd("W2", 1, "dash.switch:53", "blade-4.8", None),
            Extend("W2", 1, "dash.switch:53", 0.2, 0.05, (0.9, 0.3)),
        )
    )  # fmt: skip
    assert found["extend", "re-end"] == {"lengthened before it is crimped"}
    assert found["re-end", "move"] == found["extend", "move"] == {"crimped before it goes on"}


def test_an_end_that_stays_on_its_mark_is_crimped_before_the_part_it_goes_on_with() -> None:
    found = reasons(work_list(REMOVE, FIT, STAY, ReEnd("W1", 0, "dash.switch:15", "blade-4.8", None)))
    assert found["re-end", "fit"] == {"crimped before it goes on"}


def test_two_ends_that_trade_terminals_go_through_an_insulated_holding_step() -> None:
    work = work_list(REMOVE, FIT, BACK, THERE, Hold("W1", 0, "dash.switch:15"))
    found = reasons(work)
    assert found["hold", "remove"] == {"taken off and insulated before the part comes out"}
    assert found["hold", "move"] == {"kept aside until then", "frees the terminal"}
    assert found["move", "move"] == {"frees the terminal"}


def test_an_end_goes_on_a_part_in_line_at_once_and_not_where_its_lead_goes() -> None:
    """Moved there first, it would need two terminals one after the other."""
    lead = Wire.model_validate(
        {"wire": "lead-1", "colour": "OG", "mm2": 1.5, "metres": 0.15, "ends": ["q2:out", "dash.switch:31b"]}
    )
    put_in = Insert("W2", 1, "dash.switch:53", "q2", Place(part="fuse", zone="dash"), "in", lead)
    crimped = ReEnd("W2", 1, "q2:in", "bullet", None)
    work = work_list(REMOVE, FIT, MOVE, put_in, crimped, Move("W3", 0, "dash.switch:S", "dash.switch:53"))
    assert [(s.do, s.fields.get("wire")) for s in work.steps()] == [
        ("remove", None), ("fit", None), ("re-end", "W2"), ("move", "W3"), ("insert", "W2"),
    ]  # fmt: skip
    assert reasons(work)["re-end", "insert"] == {"crimped before it goes on"}
    assert reasons(work)["remove", "re-end"] == {"comes off with the old part"}
    done = replay(work.work, work.ordered)
    assert done[-1].after == work.names.after
    assert undo(done, done[-1].after) == work.names.before


def test_a_piggyback_is_on_before_the_end_that_needs_it() -> None:
    assert reasons(work_list(REMOVE, FIT, MOVE, Piggyback("dash.switch:53")))["piggyback", "move"] == {
        "makes room on the terminal"
    }


def test_what_contradicts_itself_without_a_holding_step_still_gives_an_order() -> None:
    """Both ends hang loose when the part is out, so neither waits for the other for ever."""
    assert [s.do for s in work_list(REMOVE, FIT, BACK, THERE).steps()] == ["remove", "fit", "move", "move"]


# -- feeds, trim ---------------------------------------------------------------------------------------------


PART = make_part("old", ["15", "M", "S", "53"])


def two_places(*operations: Operation, live: Sequence[str] = (), trim: bool = False) -> WorkList:
    """The work list of a switch and a lamp in two zones; ``live`` are addresses on a live conductor."""
    before = Loom.model_validate(
        {
            "loom": "tiny",
            "supply": {"volts": 12, "earthed": "negative"},
            "zones": {"dash": {}, "roof": {}},
            "routes": [{"from": "dash", "to": "roof", "metres": 1.0, "behind_trim": trim}],
            "places": {
                "dash.switch": {"part": "old", "zone": "dash", "title": "switch"},
                "roof.lamp": {"part": "old", "zone": "roof", "title": "lamp"},
            },
            "wires": [
                {"wire": "A", "colour": "RD", "mm2": 1, "metres": 1, "ends": ["dash.switch:15", "feed:x"]},
                {"wire": "B", "colour": "GN", "mm2": 1, "metres": 1, "ends": ["dash.switch:M", "earth:dash"]},
            ],
            "feeds": {"feed:x": {"role": "30"}},
        }
    )
    job = Job.model_validate({"job": "j", "loom": "tiny"})
    after = before
    for operation in operations:
        after = operation.apply(after)
    steps = [Step(o, Reason(f"rule-{o.do}", ("a fact",), "invented")) for o in operations]
    catalogue = Catalogue({}, {}, {"old": PART}, {}, {}, {}, load_standards=lambda: shipped().standards)
    facts = Facts({at: ConductorFact("always-live") for at in live})
    return WorkList(before, after, steps, catalogue, job, facts, lambda done: float(len(done)))


NEW = Wire.model_validate(
    {"wire": "n", "colour": "RD", "mm2": 1, "metres": 1.6, "ends": ["dash.switch:S", "roof.lamp:S"]}
)
LAMP = Place(part="old", zone="roof", title="lamp")
LAMP_OUT = Remove("roof.lamp", LAMP, ())
LAMP_IN = Fit("roof.lamp", LAMP.model_copy(update={"mounting": "insulated"}))


def told(work: WorkList) -> list[tuple[str, str]]:
    return [(step.do, step.place) for step in work.steps()]


def test_a_new_wire_is_made_at_the_first_of_its_places_and_put_on_later_at_the_other() -> None:
    work = two_places(LAMP_OUT, LAMP_IN, Add(NEW, None), Make(NEW, NEW))
    assert told(work) == [
        ("remove", "roof.lamp"), ("fit", "roof.lamp"), ("add", "roof.lamp"), ("connect", "dash.switch")
    ]  # fmt: skip
    assert [step.minutes for step in work.steps()] == [1, 1, 2, 0]
    assert work.steps()[3].fields["at"] == "dash.switch:S"


def test_the_live_end_of_a_new_feed_goes_on_last() -> None:
    move = Move("B", 0, "dash.switch:M", "dash.switch:53", "dash.switch:M")
    work = two_places(move, Add(NEW, None), live=["dash.switch:S"])
    assert told(work)[0][1] == "roof.lamp" and told(work)[-1] == ("connect", "dash.switch")
    assert "feeds last" in reasons(work)["move", "connect"]


def test_at_one_place_the_end_of_a_live_conductor_goes_on_after_the_others() -> None:
    live = Move("A", 0, "dash.switch:15", "dash.switch:S", "dash.switch:15")
    dead = Move("B", 0, "dash.switch:M", "dash.switch:53", "dash.switch:M")
    work = two_places(live, dead, live=["dash.switch:15"])
    assert [step.fields["wire"] for step in work.steps()] == ["B", "A"]
    assert reasons(work)["move", "move"] == {"feeds last"}


def test_a_feed_that_frees_a_terminal_goes_first_all_the_same() -> None:
    live = Move("A", 0, "dash.switch:15", "dash.switch:S", "dash.switch:15")
    dead = Move("B", 0, "dash.switch:M", "dash.switch:15", "dash.switch:M")
    work = two_places(live, dead, live=["dash.switch:15"])
    assert [step.fields["wire"] for step in work.steps()] == ["A", "B"]


def test_behind_trim_a_wire_is_pulled_before_what_blocks_the_way_and_crimped_after() -> None:
    work = two_places(LAMP_OUT, LAMP_IN, Add(NEW, None), Make(NEW, NEW), trim=True)
    assert [do for do, _ in told(work)].count("connect") == 2
    found = reasons(work)
    assert found["add", "fit"] == {"pull before what blocks the way"}
    assert found["add", "connect"] == {"pull before crimp"}
    assert found["remove", "add"] == {"frees the place"}
    pull, *rest = (s.text for s in work.steps() if s.fields.get("wire") == "N1")
    assert "leave a draw cord, pull it through, and crimp its ends only then" in pull
    assert all(text.startswith("Crimp the end of the red wire (N1)") for text in rest)


def test_half_done_the_other_end_of_a_new_wire_hangs_loose() -> None:
    work = two_places(LAMP_OUT, LAMP_IN, Add(NEW, None), Make(NEW, NEW), trim=True)
    done = replay(work.work, work.ordered)
    ends = [[e.at for e in d.after.find("n").ends] for d in done if "n" in d.after.wire_index]
    assert ends[0] == ["loose", "loose"] and ends[-1] == ["dash.switch:S", "roof.lamp:S"]
    assert undo(done, done[-1].after) == work.names.before


# -- why -----------------------------------------------------------------------------------------------------


def test_the_chain_of_reasons_is_the_shortest_there_is() -> None:
    demands = [Demand(1, 2, "a"), Demand(2, 3, "b"), Demand(3, 4, "c"), Demand(1, 3, "d")]
    assert [link.why for link in chain(demands, 1, 4)] == ["d", "c"]
    assert chain(demands, 2, 1) == () and chain([], 1, 2) == ()


def test_a_new_wire_keeps_its_colour_in_every_step_about_it() -> None:
    work = work_list(REMOVE, FIT, Add(NOMINAL, None), Make(MADE, NOMINAL))
    assert "black/white" in work.steps()[-1].text
