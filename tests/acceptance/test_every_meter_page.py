"""What holds for the meter page of every shipped job: each reading has one answer, each test can be done."""

from collections.abc import Iterator, Mapping
from functools import cache
from itertools import pairwise
from math import inf, isinf

import pytest
from bench_work import earthed_posts
from metered import Metered, metered
from metered import readings as solved_anew
from planned import JOBS, catalogue

from planner.circuit.fitted import FittedPart
from planner.currents.grid import BODY
from planner.currents.laws import Emf, Junction, Resistance
from planner.currents.solver import Branch
from planner.model.elements import SPARK, Gauge, Resistor, Sender, Stabiliser, Winding
from planner.model.joiners import stud_mm2
from planner.model.meter_page import MeterPage, MeterTest
from planner.model.reach import conductor
from planner.model.wording import body_words
from planner.proof.facts import short_titles
from planner.sheets.build.meter_words import good_words, lines_words
from planner.testing.mistakes.mistake import Mistake
from planner.testing.page.answers import LEAST_VOLTS
from planner.testing.page.dead import DeadNet, dead_branches
from planner.testing.page.judging import judge
from planner.testing.page.points import solve_sets
from planner.testing.page.wording import Wording

# Job by job, so that each is planned once.
pytestmark = pytest.mark.parametrize("job", JOBS, scope="module")


@cache
def page(job: str) -> MeterPage:
    return metered(job).page


def readings(test: MeterTest) -> Iterator[float]:
    """Readings all over the scale, on every limit and beside it."""
    limits = [limit for wrong in test.wrong for limit in (wrong.low, wrong.high)] + [test.low, test.high]
    known = [limit for limit in limits if not isinf(limit)]
    for limit in known:
        yield from (limit - 0.01, limit, limit + 0.01)
    top = max(*known, 20.0)
    yield from (top * n / 50.0 for n in range(60))
    if test.unit == "ohm":
        yield from (top * 1.1, 1e5, inf)


def test_every_reading_is_good_or_answered_by_one_line(job: str) -> None:
    for test in page(job).tests:
        for read in readings(test):
            if read >= 0.0 or any(wrong.low < 0.0 for wrong in test.wrong):
                taken = judge(test, "", read)
                holding = [w for w in test.wrong if w.low < read < w.high]
                assert len(holding) <= 1, (test.id, read)
                is_minus = read < 0.0 and not holding
                assert (taken.verdict == "good") == (not taken.says) or is_minus, (test.id, read)


def test_lines_stand_in_order_and_touch(job: str) -> None:
    """One limit is the upper one of a line and the lower one of the next, in the digits that are printed."""
    for test in page(job).tests:
        good = (test.low, test.high if not isinf(test.expected) else inf)
        lines = sorted([*((w.low, w.high) for w in test.wrong), good])
        assert [(w.low, w.high) for w in test.wrong] == [line for line in lines if line != good]
        assert all(one[1] == other[0] for one, other in pairwise(lines)), test.id
        if test.unit == "ohm":
            assert lines[0][0] == 0.0 and isinf(lines[-1][1]), test.id
        else:
            assert isinf(lines[-1][1]), test.id
        for limit in (end for line in lines for end in line if not isinf(end)):
            assert limit == pytest.approx(round(limit, 1 if abs(limit) < 20 else 0), abs=1e-9), test.id


def test_what_is_printed_of_a_test_names_no_limit_twice(job: str) -> None:
    for test in page(job).tests:
        said = [line.partition(":")[0] for line in lines_words(test)]
        lines = len(test.wrong) + (test.dark is not None)  # and one for what does not swing
        assert len(said) == len(set(said)) == lines, test.id
        assert good_words(test) not in said


def test_poor_joints_are_said_alike(job: str) -> None:
    """Where a wire that is off is told, one that hangs by a poor joint is told beside it."""
    for test in page(job).tests:
        for wrong in test.wrong:
            for said in wrong.words.split("; or "):
                if "poor joint" in said and "has a poor joint" in said:
                    assert ": look first at " in said or said.endswith(": look at both its ends"), said


def test_a_load_that_is_wired_backwards_is_never_excused_by_the_tips(job: str) -> None:
    """Where the wires under the tips are traded and good volts turn to a minus, a line names that trade."""
    van = metered(job)
    trades = [m for m in van.slips.values() if m.kind in ("ends traded", "wrong way round")]
    for test in (test for test in page(job).tests if test.unit == "V" and test.low > 0.0):
        own = [mistake for mistake in trades if {test.at, test.to} <= set(mistake.mend)]
        edits = van.ground.exposer.edits(own)
        for (name, _), (read,) in zip(edits, solved_anew(van, [e for _, e in edits], [test]), strict=True):
            if read < LEAST_VOLTS:
                said = [wrong.words for wrong in judge(test, "", read).says]
                assert any(van.slips[name[0]].words in words for words in said), (test.where_words, read)


def test_with_the_battery_off_nothing_hangs_on_its_earthed_post(job: str) -> None:
    """Its leads stay off until first power, together or each alone: no reading may need one of them on."""
    ground = metered(job).ground
    posts = earthed_posts(ground.wired.loom, catalogue())
    for test in (test for test in page(job).tests if test.stage == "dead"):
        assert not posts & {test.at, test.to}, test.where_words
        if posts:
            branches = [ground.grid.bare[i] for i in ground.grid.closed(ground.exposer.rest)]
            off = [branch for branch in branches if not posts & {branch.a, branch.b}]
            read = DeadNet(dead_branches(off)).ohms(test.at, test.to)
            assert judge(test, "", read).verdict == "good", (test.where_words, read)


def test_a_sound_vehicle_is_good_at_any_level_of_its_tank(job: str) -> None:
    """Nobody fills or drains a tank for a reading: every level is good."""
    van = metered(job)
    loom = van.ground.wired.loom
    fitted = [catalogue().parts[place.part] for place in loom.places.values()]
    senders = [e for part in fitted for e in part.inside if isinstance(e, Sender)]
    for test in page(job).tests:
        for sender in senders:
            if loom.conditions[sender.follows][0].label in ("cold", "absent"):
                continue  # the engine has not run
            for level in sender.ohms:
                read = read_at(van, test, {sender.follows: level})
                assert judge(test, "", read).verdict == "good", (test.where_words, level, read)


def test_where_a_motor_or_a_step_stands_nobody_knows(job: str) -> None:
    """A new motor comes out of its box wherever it was left, a stepping relay on either step."""
    van = metered(job)
    shorts = short_titles(van.ground.wired.loom)
    left = [v for v in van.ground.stands.variables.values() if v.kind in ("cam", "step")]
    for test in page(job).tests:
        told = dict(test.settings)
        for variable in (variable for variable in left if variable.name not in told):
            of_part = shorts[variable.name.rpartition("/")[0]]
            for value in variable.values:
                good = judge(test, "", read_at(van, test, {variable.name: value})).verdict == "good"
                said = test.where_words.partition(", with ")[2]
                assert good or f"the {of_part} " in said, (test.where_words, value)


def read_at(van: Metered, test: MeterTest, moved: Mapping[str, str]) -> float:
    """What is computed for a test with some conditions moved."""
    grid, position = van.ground.grid, {**van.position(test), **moved}
    branches = [grid.bare[index] for index in grid.closed(position)]
    if test.unit == "ohm":
        return DeadNet(dead_branches(branches)).ohms(test.at, test.to)
    (point,) = solve_sets([branches], grid.zero)
    known = {test.at, test.to} <= set(point.volts)
    return van.sign * (point.volts[test.at] - point.volts[test.to]) if known else 0.0


def test_nothing_is_asked_that_only_a_running_engine_makes(job: str) -> None:
    """The engine first runs once every reading is taken: no hot water, no oil pressure before."""
    van = metered(job)
    loom = van.ground.wired.loom
    for test in page(job).tests:
        for name, value in test.settings:
            rest = loom.conditions[name][0].label if name in loom.conditions else value
            assert value == rest or rest not in ("stopped", "cold", "absent"), (test.id, name, value)


def test_what_a_test_does_not_name_may_stand_as_it_likes(job: str) -> None:
    """Breaker points, a gear, a lamp's own switch: where it matters how they stand, the test says it."""
    van = metered(job)
    stands = van.ground.stands
    wording = Wording(van.ground.wired, stands.view.net, catalogue().parts)
    for test in page(job).tests:
        told, memory = dict(test.settings), set(dict(test.settings)) - stands.controls
        for name in (name for name in wording.unset if name not in told):
            for value in stands.variables[name].values[1:] if not memory else ():
                read = read_at(van, test, stands.at({**told, name: value}).position)
                is_named = wording.titles()[name] in test.where_words
                assert is_named or judge(test, "", read).verdict == "good", (test.where_words, name, value)


def test_no_tip_goes_into_a_joiner_that_the_work_closes(job: str) -> None:
    """It is crimped or glued shut by then: only a stud has a cover that comes off again."""
    van = metered(job)
    wired = van.ground.wired
    assert wired.before is not None
    for test in page(job).tests:
        for tip in (test.at, test.to):
            is_new = tip.startswith("joint:") and tip not in wired.before.ends_at
            assert not is_new or stud_mm2(wired.loom, tip) is not None, test.where_words


def test_a_joiner_that_takes_a_tip_is_named_by_its_part_or_by_the_wires_that_meet_there(job: str) -> None:
    wired = metered(job).ground.wired
    for test in page(job).tests:
        for tip in (tip for tip in (test.at, test.to) if tip.startswith("joint:")):
            place = tip.removeprefix("joint:").rpartition(".")[0]
            for wire, _ in wired.loom.ends_at[tip] if place not in wired.loom.places else ():
                assert wired.shown.get(wire, wire) in test.where_words, test.where_words


def test_ohms_are_good_on_a_meter_that_makes_diodes_conduct(job: str) -> None:
    """Pointer meters have volts enough: either way round, or with their plus where the test says."""
    van = metered(job)
    closed, _ = at_rest(van)
    dead = dead_branches(closed)
    diodes = [branch for branch in closed if isinstance(branch.law, Junction) and branch.law.drop_v > 0.2]
    for test in (test for test in page(job).tests if test.unit == "ohm"):
        told = van.ground.wired.at(test.at) if test.at != BODY else body_words(van.ground.wired.loom)
        is_said = "the meter's plus on " in test.where_words
        ways = [(test.at, test.to), (test.to, test.at)]
        if is_said:
            ways = ways[:1] if test.where_words.startswith(f"the meter's plus on {told}") else ways[1:]
        for plus, minus in ways:
            meter = Branch(("meter",), plus, minus, Emf(3.0, 1000.0))
            (point,) = solve_sets([[meter, *dead, *diodes]], minus)
            amps = -point.amps[0]
            read = point.across(meter) / amps if amps > 1e-7 else inf
            assert judge(test, "", read).verdict == "good", (test.where_words, plus, read)


def test_ohms_are_good_whatever_electronics_have_without_supply(job: str) -> None:
    van = metered(job)
    closed, electronic = at_rest(van)
    net = DeadNet(dead_branches(branch for branch in closed if branch.name not in electronic))
    for test in (test for test in page(job).tests if test.unit == "ohm"):
        assert judge(test, "", net.ohms(test.at, test.to)).verdict == "good", test.where_words


def test_no_ohms_hang_on_what_a_machine_has_inside_while_it_stands_still(job: str) -> None:
    """Brushes, the contact that a horn breaks, those of a regulator: a tenth of their ohms, or many times."""
    van = metered(job)
    closed, _ = at_rest(van)
    machines = {("load", *key) for key in machine_loads(van)}
    for times in (0.1, 30.0):
        net = DeadNet(
            dead_branches(
                branch._replace(law=Resistance(branch.law.ohms * times))
                if branch.name in machines and isinstance(branch.law, Resistance)
                else branch
                for branch in closed
            )
        )
        for test in (test for test in page(job).tests if test.unit == "ohm"):
            assert judge(test, "", net.ohms(test.at, test.to)).verdict == "good", test.where_words


def machine_loads(van: Metered) -> Iterator[tuple[str, str]]:
    """Yield motors, horns and fields, and what dynamos and regulators have: all but an ignition coil."""
    for name, place in van.ground.wired.loom.places.items():
        part = catalogue().parts[place.part]
        for number, key in FittedPart(name, part, {}).load_keys.items():
            element = part.inside[number]
            is_coil = isinstance(element, Winding) and element.does == SPARK
            is_generating = isinstance(element, Resistor) and part.family in ("generator", "regulator")
            if (isinstance(element, Winding) and not is_coil) or is_generating:
                yield key


def test_an_end_that_is_off_is_named_where_it_first_shows(job: str) -> None:
    """Who comes to a reading has found those before it good: what can be wrong since then is told."""
    van = metered(job)
    wired, tests = van.ground.wired, page(job).tests
    off = [m for m in van.slips.values() if m.kind in ("end off", "earth missing") and m.id.endswith("-off")]
    for mistake, read in first_shown(van, off):
        end = mistake.changes[0].ends[0]
        test = next((t for t in tests if is_clearly_wrong(t, read[t.id])), None)
        if test is not None:
            said = [part for wrong in test.wrong for part in wrong.words.split("; or ")]
            named = wired.wire(end.wire, end.end), f"off {wired.at(mistake.mend[0])}"
            assert any(all(word in part for word in named) for part in said), (
                test.where_words,
                mistake.words,
            )


def is_clearly_wrong(test: MeterTest, read: float) -> bool:
    """Whether a reading is not good even if it is off by as much as a good one may be."""
    if isinf(test.expected) or isinf(read):
        return judge(test, "", read).verdict == "wrong"
    off = (test.high - test.low) / 2
    return not test.low - off <= read <= test.high + off


def first_shown(van: Metered, mistakes: list[Mistake]) -> Iterator[tuple[Mistake, Mapping[str, float]]]:
    """Yield mistakes with what every test reads."""
    tests = [test for unit in ("ohm", "V") for test in van.page.tests if test.unit == unit]
    edits = van.ground.exposer.edits(mistakes)
    known = {mistake.id: mistake for mistake in mistakes}
    for (name, _), read in zip(edits, solved_anew(van, [e for _, e in edits], tests), strict=True):
        yield known[name[0]], dict(zip((test.id for test in tests), read, strict=True))


def at_rest(van: Metered) -> tuple[list[Branch], set[tuple[str, ...]]]:
    """What is closed with everything off and the battery's earthed post free, and which of it is electronic.

    Electronic: an apparatus of a few watts, a stabiliser, the field of an alternator behind its regulator.
    """
    loom, grid = van.ground.wired.loom, van.ground.grid
    posts = earthed_posts(loom, catalogue())
    bare = [grid.bare[index] for index in grid.closed(van.ground.exposer.rest)]
    closed = [branch for branch in bare if not posts & {branch.a, branch.b}]
    names = {branch.name for branch in closed if branch.name[0] == "stabiliser"}
    for name, place in loom.places.items():
        part = catalogue().parts[place.part]
        for number, key in FittedPart(name, part, {}).load_keys.items():
            element = part.inside[number]
            is_apparatus = isinstance(element, Resistor) and element.does and (element.watts or 0) < 20
            if is_apparatus or (part.part.startswith("alternator") and isinstance(element, Resistor)):
                names.add(("load", *key))
    return closed, names


def test_no_lamp_with_a_battery_of_its_own_at_the_wires_of_a_gauge_or_a_sender(job: str) -> None:
    """The wire that is tested may be off: then the lamp's current goes through what the tips are on."""
    loom = metered(job).ground.wired.loom
    for test in (test for test in page(job).tests if test.unit == "ohm" and test.lamp != "none"):
        tips = {tip for tip in (test.at, test.to) if tip != BODY}
        for end in tips.union(*(conductor(loom, tip) for tip in tips)):
            place, _, mark = end.partition(":")
            inside = catalogue().parts[loom.places[place].part].inside if place in loom.places else ()
            delicate = Gauge | Sender | Stabiliser if end in tips else Sender
            held = [e for e in inside if isinstance(e, delicate) and mark in e.between]
            assert not held, (test.where_words, test.lamp)
