"""What goes on the posts of a battery: the earthed one last, and not to be joined before first power."""

from small_work import FIT, MOVE, NOMINAL, OLD_PLACE, REMOVE, STAY, work_list

from planner.model.delta import Add, Fit, Make, Move, Operation, Remove, Renew, new_end
from planner.model.loom import Place
from planner.workshop.papers.replay import replay
from planner.workshop.steps.worklist import WorkList
from planner.workshop.tasks.posts import is_put_on

PLACE = Place(part="battery", zone="dash", title="battery", mounting="insulated")
OUT, IN = Remove("battery", PLACE, (("N1", 0, "minus"),)), Fit("battery", PLACE)
MINUS = frozenset({"battery:minus"})
WIRES = (
    {"wire": "W1", "colour": "OG", "mm2": 1.5, "metres": 0.5, "ends": ["dash.switch:15", "battery:plus"]},
    {"wire": "W2", "colour": "YE", "mm2": 1.5, "metres": 0.9, "ends": ["q:2", "dash.switch:M", "q:3"]},
    {"wire": "W3", "colour": "YE/BK", "mm2": 1, "metres": 0.7, "ends": ["dash.switch:S", "q:4"]},
    {"wire": "N1", "colour": "BK", "mm2": 1, "metres": 0.7, "ends": ["battery:minus", "earth:dash"]},
)
EARTH = NOMINAL.model_copy(
    update={"ends": (new_end("battery:minus", "ring-10"), new_end("dash.switch:x", "blade-6.3"))}
)


def work(*operations: Operation) -> WorkList:
    """A work list with a battery beside the switch, its minus post earthed."""
    places = {
        "dash.switch": OLD_PLACE.model_dump(),
        "q": {"part": "fuse", "zone": "dash"},
        "battery": PLACE.model_dump(),
    }
    return work_list(*operations, swaps=["battery", "dash.switch"], places=places, wires=list(WIRES))


def test_a_new_earth_goes_on_the_earthed_post_when_all_else_is_done() -> None:
    """At the battery there would be nothing else to do, and it would be done first."""
    made = work(REMOVE, FIT, STAY, MOVE, Add(EARTH, "31"), Make(EARTH, EARTH))
    assert is_put_on(made.work, made.ordered[-1], MINUS)
    assert not any(is_put_on(made.work, task, MINUS) for task in made.ordered[:-1])
    assert {d.why for d in made.demands if d.then == len(made.ordered)} >= {
        "the earthed post of the battery goes on last"
    }


def test_who_puts_something_on_the_earthed_post_is_told_to_keep_it_off_the_battery() -> None:
    back = Move("N1", 0, "battery:minus", "battery:minus")
    steps = work(OUT, IN, back, REMOVE, FIT, STAY, Move("W3", 0, "dash.switch:S", "battery:plus")).steps()
    told = [step.do for step in steps if "lead goes on last, at first power" in step.text]
    assert told == ["fit"]


def test_a_wire_that_is_laid_anew_to_a_battery_waits_until_that_is_in() -> None:
    """Else it would be put on a post that is not there, and never be told of again."""
    lay = Renew("W1", 0, 1, 4.0, (1.5,), ("dash.switch:15", "battery:plus"))
    out = Remove("battery", PLACE, (("N1", 0, "minus"), ("W1", 1, "plus")))
    plus = Move("W1", 1, "battery:plus", "battery:plus")
    made = work(out, IN, Move("N1", 0, "battery:minus", "battery:minus"), plus, lay)
    assert [step.do for step in made.steps()] == ["remove", "fit", "renew"]
    assert replay(made.work, made.ordered)[-1].after == made.names.after
