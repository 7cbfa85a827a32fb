"""What holds for the order of work, the materials and the way back of every shipped job."""

from itertools import pairwise

import pytest
from bench_work import earthed_posts, put_on, room, same
from planned import JOBS, benched, catalogue, planned, settled, worked
from taken_back import undo

from planner.model.delta import Add, Fit, Hold, Join, Move, ReEnd, Remove, Renew
from planner.model.loom import split_address
from planner.workshop.papers.replay import LOOSE, replay
from planner.workshop.tasks.task import is_pull

BATTERY_WORK = ("hold", "remove")


@pytest.mark.parametrize("job", JOBS)
class TestEveryBenchSheet:
    def test_every_demand_on_the_order_is_kept(self, job: str) -> None:
        sheet = benched(job)
        assert [d for d in sheet.demands if d.first >= d.then] == []
        assert all(d.first >= 1 and d.then <= len(sheet.plan.steps) and d.why for d in sheet.demands)

    def test_every_step_stands_under_one_place_in_the_order_of_the_plan(self, job: str) -> None:
        sheet = benched(job)
        assert [n for visit in sheet.visits for n in visit.steps] == [s.n for s in sheet.plan.steps]
        assert all(sheet.step(n).place == visit.place for visit in sheet.visits for n in visit.steps)
        places = [visit.place for visit in sheet.visits]
        assert all(one != other for one, other in pairwise(places))

    def test_no_order_has_fewer_changes_of_place(self, job: str) -> None:
        sheet = benched(job)
        assert sheet.is_shortest and sheet.changes == sheet.changes_at_least

    def test_done_step_by_step_the_vehicle_is_the_one_that_was_proven(self, job: str) -> None:
        work = worked(job)
        done = replay(work.work, work.ordered)
        last = done[-1].after if done else work.names.before
        assert same(last, catalogue()) == same(settled(job)[1], catalogue())

    def test_every_step_taken_back_gives_the_vehicle_before_from_wherever_one_stops(self, job: str) -> None:
        work = worked(job)
        done = replay(work.work, work.ordered)
        for stop in range(len(done)):
            back = undo(done[: stop + 1], done[stop].after)
            assert same(back, catalogue()) == same(work.names.before, catalogue())

    def test_no_end_goes_on_or_back_on_a_terminal_with_the_fitting_for_another(self, job: str) -> None:
        """Where it is crimped it is off until it goes on; taken back, off until it is as it was."""
        work = worked(job)
        crimped: set[tuple[str, int]] = set()
        for one in replay(work.work, work.ordered):
            for operation in one.operations:
                if isinstance(operation, ReEnd):
                    crimped.add((operation.wire, operation.end))
                elif isinstance(operation, Move) and (operation.wire, operation.end) in crimped:
                    assert operation.before == LOOSE, (one.task, operation)

    def test_no_end_goes_on_a_terminal_that_has_no_room_for_it(self, job: str) -> None:
        """An end that is on already and one more: never more than the terminal takes, at any step."""
        work = worked(job)
        loom = work.names.before
        full = {at: len(ends) for at, ends in loom.ends_at.items()}  # more than it takes, as found: stays so
        for one in replay(work.work, work.ordered):
            for operation in one.operations:
                loom = operation.apply(loom)
                for at in put_on(operation) if not isinstance(operation, Join | Renew) else ():
                    if split_address(at)[0] in loom.places:
                        most = max(room(loom, at, catalogue()), full.get(at, 0))
                        assert len(loom.ends_at[at]) <= most, (one.task, at)

    def test_the_battery_is_off_first_and_on_last(self, job: str) -> None:
        sheet = benched(job)
        dos = [(s.do, s.place) for s in sheet.plan.steps]
        if ("supply", dos[0][1]) == dos[0] if dos else False:
            battery = dos[0][1] or next(place for do, place in dos if place.endswith(".battery"))
            about = [n for n, (_, place) in enumerate(dos[1:], 1) if place == battery]
            first = [n for n in about if dos[n][0] in BATTERY_WORK]
            last = [n for n in about if n not in first]
            assert first == list(range(1, len(first) + 1))
            assert last == list(range(len(dos) - len(last), len(dos)))
        is_minus = worked(job).names.before.supply.earthed == "negative"
        assert sheet.earthed_post == ("minus" if is_minus else "plus")

    def test_what_goes_on_the_earthed_post_of_a_battery_goes_on_last(self, job: str) -> None:
        """Before that no step joins the battery to the vehicle."""
        work = worked(job)
        posts = earthed_posts(work.names.after, catalogue())
        steps = [
            any(at in posts for operation in one.operations for at in put_on(operation))
            for one in replay(work.work, work.ordered)
            if not isinstance(one.task.operation, Fit)  # ends that stay on their marks go on with the part
        ]
        assert steps == sorted(steps)

    def test_ids_of_steps_are_unique(self, job: str) -> None:
        ids = [step.id for step in planned(job).steps]
        assert len(ids) == len(set(ids))

    def test_every_new_wire_is_put_on_at_each_of_its_ends_once(self, job: str) -> None:
        work = worked(job)
        for task in (t for t in work.ordered if isinstance(t.operation, Add)):
            goes = [t for t in work.ordered if t.step is task.step and not is_pull(t, work.work.tasks)]
            assert [t.end for t in goes] == [None] or sorted(t.end or 0 for t in goes) == [0, 1]

    def test_a_part_is_out_before_another_goes_in_and_in_before_ends_go_on(self, job: str) -> None:
        turn: dict[tuple[str, str], int] = {}
        for n, task in enumerate(worked(job).ordered):
            operation = task.operation
            if isinstance(operation, Remove | Fit):
                turn[operation.do, operation.at] = n
            if isinstance(operation, Fit):
                assert turn.get(("remove", operation.at), -1) < n
            if isinstance(operation, Move):
                place = split_address(operation.to)[0]
                assert turn.get(("fit", place), -1) < n and ("fit", place) not in _later(job, n)

    def test_each_end_that_is_worked_on_has_one_label(self, job: str) -> None:
        labels = benched(job).labels
        texts = [label.text for label in labels]
        chained = {wire.wire for wire in settled(job)[1].wires if len(wire.ends) > 2}
        single = [label.text for label in labels if label.wire not in chained]
        assert len(single) == len(set(single)) and all(texts)

    def test_every_step_but_none_other_has_its_way_back(self, job: str) -> None:
        sheet = benched(job)
        assert [line.step for line in sheet.undo] == [s.n for s in reversed(sheet.plan.steps)]
        lost = {line.step for line in sheet.undo if line.cannot}
        assert lost >= {s.n for s in sheet.plan.steps if not s.reversible}

    def test_what_is_to_be_bought_is_what_is_needed_and_not_on_hand(self, job: str) -> None:
        for line in benched(job).materials:
            assert line.amount > 0 and 0 <= line.on_hand <= line.amount, line
            assert line.to_buy == pytest.approx(line.amount - line.on_hand)


def _later(job: str, number: int) -> set[tuple[str, str]]:
    """What is fitted after a step, by its place."""
    later = (task.operation for task in worked(job).ordered[number + 1 :])
    return {(o.do, o.at) for o in later if isinstance(o, Fit)}


def test_holds_are_for_ends_that_come_back() -> None:
    held = 0
    for job in JOBS:
        tasks = [task.operation for task in worked(job).ordered]
        for n, operation in enumerate(tasks):
            if isinstance(operation, Hold):
                held += 1
                back = [o for o in tasks[n:] if isinstance(o, Move)
                        and (o.wire, o.end) == (operation.wire, operation.end)]  # fmt: skip
                assert len(back) == 1, (job, operation)
    assert held > 5
