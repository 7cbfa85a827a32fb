"""Every shipped sheet says where each old end is meanwhile, how it meets what it goes on, and how it was."""

import re

import pytest
from planned import JOBS, benched, catalogue, planned, worked

from planner.model.delta import Fit, Move, Remove
from planner.model.elements import Fuse
from planner.model.fitted_fuse import fuse_as_fitted, rated_for_good
from planner.model.loom import split_address
from planner.model.part import Part
from planner.sheets.build.bench import bench_sheet
from planner.sheets.build.plan import plan_sheet
from planner.sheets.build.step_reasons import reason_words
from planner.sheets.render.markdown import as_markdown
from planner.workshop.tasks.task import takes_off

NOWHERE = {"loose", "unknown", "joint"}


def _home(at: str) -> str:
    return split_address(at)[0]


@pytest.mark.parametrize("job", JOBS)
class TestNoEndIsLeftToGuess:
    def test_nothing_is_moved_from_where_an_earlier_step_took_it_off(self, job: str) -> None:
        work = worked(job)
        for number, task in enumerate(work.ordered, 1):
            if not isinstance(task.operation, Move) or task.operation.to in work.names.joiners:
                continue
            move = task.operation
            earlier = (
                n
                for n, other in enumerate(work.ordered[: number - 1], 1)
                if takes_off(other, move.wire, move.end, move.was)
            )
            off = next(earlier, 0)
            text = work.steps()[number - 1].text
            is_loose = off > 0
            assert (f" since step {off}, on " in text) == is_loose, text
            assert text.startswith("Put the" if is_loose else "Move the"), text

    def test_leads_of_a_part_are_joined_and_the_joiners_take_every_wire(self, job: str) -> None:
        sheet, parts = benched(job), catalogue().parts
        leads = [
            f"{name}:{mark}"
            for name, place in sheet.after.places.items()
            for mark, terminal in parts[place.part].terminals.items()
            if terminal.fitting == "bare" and sheet.before.places.get(name) != place
        ]
        ends = {at: on for at in leads if (on := sheet.after.ends_at.get(at))}
        said = " ".join(step.text for step in sheet.plan.steps)
        assert len(re.findall("is a lead of the part", said)) == len(ends)
        ways = [1 + sum(len(sheet.after.find(w).areas_at(n)) for w, n in on) for on in ends.values()]
        crimped = [line for line in sheet.materials if line.kind == "joiner" and "crimped" in line.what]
        for count in set(ways):
            there = sum(line.amount for line in crimped if f"for {count} wires" in line.what)
            assert there >= ways.count(count)
        told = [line for line in sheet.fittings_changed if "joined to the part's own lead" in line]
        assert sum("cut the joiner off" in line.cannot for line in sheet.undo) <= len(told)
        assert len(told) == sum(wire in sheet.before.wire_index for on in ends.values() for wire, _ in on)

    def test_the_papers_name_every_old_end_that_is_on_another_terminal(self, job: str) -> None:
        names, sheet = worked(job).names, benched(job)
        for wire in sheet.after.wires:
            for number, end in enumerate(wire.ends):
                was = names.before.end_address(wire.wire, number)
                joined = end.at in names.joiners
                if was is None or was == end.at or ({_home(was), _home(end.at)} & NOWHERE and not joined):
                    continue
                named, at = names.named(wire.wire, number), names.at(end.at)
                line = f"{named}: was on {names.was_at(was)}, is {'in' if joined else 'on'} {at}"
                assert any(told.startswith(line) for told in sheet.fittings_changed), line

    def test_a_piggyback_that_nothing_rides_on_any_more_is_told(self, job: str) -> None:
        sheet, parts = benched(job), catalogue().parts
        for at in set(sheet.before.piggybacks):
            place, mark = split_address(at)
            if at not in sheet.after.piggybacks:
                assert any("piggyback" in step.text for step in sheet.plan.steps if step.do == "remove")
                continue
            holds = parts[sheet.after.places[place].part].terminals[mark].holds
            free = holds + sheet.after.piggybacks.count(at) - len(sheet.after.ends_at[at])
            was = holds + sheet.before.piggybacks.count(at) - len(sheet.before.ends_at[at])
            told = sum("free blade" in step.text for step in sheet.plan.steps)
            assert told == max(0, free - was)


@pytest.mark.parametrize("job", JOBS)
def test_a_wire_of_which_nobody_knows_the_other_end_is_put_on_nothing(job: str) -> None:
    """What the first page makes of it is to tie it back, or to plan again; the sheet says no other thing."""
    names, sheet = worked(job).names, benched(job)
    for wire in sheet.before.wires:
        for n, end in enumerate(wire.ends):
            if (
                all(each.at != "unknown" for each in wire.ends)
                or _home(end.at) not in names.work.swapped
                or len(sheet.before.ends_at[end.at]) > 1
                or names.facts.at(end.at).live != "never"
            ):
                continue
            named = names.named(wire.wire, n)
            assert sheet.after.end_address(wire.wire, n) == "loose"
            (said,) = (step.text for step in sheet.plan.steps if f" {named} " in step.text)
            assert said.startswith("Insulate and tie back") and "TREAT IT AS LIVE" in said
            assert [line for line in sheet.tied_back if line.startswith(named)]
            (label,) = (label for label in sheet.labels if label.wire == names.shown(wire.wire))
            assert label.note.startswith("tied back")
            caps = [line for line in sheet.materials if line.kind == "cap" and "covered" in line.note]
            assert sum(line.amount for line in caps) >= 1


def test_the_wire_of_unknown_nature_is_in_no_list_of_what_goes_on() -> None:
    (fit,) = (step for step in benched("trailer-socket-converter").plan.steps if step.do == "fit")
    assert "yellow (T1) on 1" in fit.text
    assert "T2" not in fit.text


@pytest.mark.parametrize("job", JOBS)
def test_a_sheet_that_loses_lights_or_signals_says_that_the_vehicle_stays_where_it_is(job: str) -> None:
    sheet = benched(job)
    lost = sheet.plan.road == "no" and sheet.plan.verdict != "unsafe"
    said = as_markdown(bench_sheet(sheet))
    assert ("As long as that is so, do not" in said) == lost
    assert ("do not leave the mooring" in said) == (lost and sheet.before.kind == "boat")


@pytest.mark.parametrize("job", JOBS)
def test_a_plan_for_a_boat_says_nothing_of_the_road(job: str) -> None:
    plan = planned(job)
    said = as_markdown(plan_sheet(plan))
    is_afloat = benched(job).before.kind == "boat"
    assert ("May it be driven like this?" in said) != is_afloat
    assert not is_afloat or "on the road" not in said


@pytest.mark.parametrize("job", JOBS)
def test_whatever_the_plan_adds_of_its_own_says_why(job: str) -> None:
    """A part that the job does not name, a fuse, a thicker wire: the sheet gives the reason."""
    for step in benched(job).plan.steps:
        if step.do in ("remove", "fit", "insert", "fuse", "renew") and "swap" not in step.because:
            assert len(list(reason_words(step))) == 1, (step.text, step.because)


@pytest.mark.parametrize("job", JOBS)
def test_a_push_on_that_is_put_beside_others_says_how_it_finds_room(job: str) -> None:
    names, sheet = worked(job).names, benched(job)
    for wire in sheet.after.wires:
        for number, end in enumerate(wire.ends):
            place, mark = split_address(end.at)
            fitted = sheet.after.places.get(place)
            terminal = catalogue().parts[fitted.part].terminals.get(mark) if fitted else None
            is_new = wire.wire in names.new_wires and not wire.wire.startswith("lead")
            moved = names.before.end_address(wire.wire, number) not in (end.at, None)
            if (
                terminal is None
                or not terminal.fitting.startswith("blade")
                or not (is_new or moved)
                or len(sheet.after.ends_at[end.at]) < 2
            ):
                continue
            shown = names.shown(wire.wire)
            at = f"{mark} has {terminal.holds} blades:"
            if terminal.holds == 1:
                at = f"{mark} has one blade: with its piggyback there is room"
            said = [s.text for s in sheet.plan.steps if re.search(rf"\b{shown}\b", s.text)]
            said = [text for text in said if at in text]
            assert said, (shown, end.at)


@pytest.mark.parametrize("job", JOBS)
def test_a_fuse_that_is_larger_than_before_is_told_with_its_part_and_in_the_papers(job: str) -> None:
    sheet, parts = benched(job), catalogue().parts
    for name, place in sheet.after.places.items():
        was = sheet.before.places.get(name)
        if was is None or was.part == place.part:
            continue
        old = {f.between[1]: fuse_as_fitted(sheet.before, name, f) for f in _fuses(parts[was.part])}
        for fuse in (fuse_as_fitted(sheet.after, name, f) for f in _fuses(parts[place.part])):
            mark = fuse.between[1]
            if mark in old and _for_good(fuse) > _for_good(old[mark]):
                (fit,) = (s for s in sheet.plan.steps if s.do == "fit" and s.fields["at"] == name)
                assert f"{mark}: {fuse.amps:g} A for {old[mark].amps:g} A" in fit.text
                assert any(f"{mark}: {fuse.amps:g} A for" in line for line in sheet.exchanged)


def test_a_fuse_of_25_a_in_place_of_8_a_is_told() -> None:
    said = " ".join(step.text for step in benched("fuse-box-with-larger-fuses").plan.steps)
    assert "fuses that carry more than before (1: 25 A for 8 A" in said


def _fuses(part: Part) -> list[Fuse]:
    return [element for element in part.inside if isinstance(element, Fuse)]


def _for_good(fuse: Fuse) -> float:
    return rated_for_good(fuse.amps, fuse.marked)


def test_parts_with_leads_have_no_terminals() -> None:
    for part in catalogue().parts.values():
        if part.title.endswith(" leads") and "for" not in part.title:
            kinds = {t.fitting for t in part.terminals.values() if t.by == "wire"}
            assert kinds == {"bare"}, part.part


@pytest.mark.parametrize("job", JOBS)
def test_taken_back_the_fuses_go_in_at_first_power(job: str) -> None:
    """Nothing is live on the way back until all is: a fuse that goes in has to wait for that."""
    for line in benched(job).undo:
        assert not re.search(r"\bPut the fuse\b", line.text), line.text
        if re.search(r"fuse of [\d.]+ A", line.text):
            assert "at first power" in line.text or "stays with the new part" in line.text


@pytest.mark.parametrize("job", JOBS)
def test_taken_back_an_exchanged_part_gets_the_fuses_that_it_had(job: str) -> None:
    work, sheet = worked(job), benched(job)
    exchanged = {t.operation.at for t in work.ordered if isinstance(t.operation, Fit)}
    for line in sheet.undo:
        operation = work.ordered[line.step - 1].operation
        if isinstance(operation, Remove) and operation.at in exchanged:
            inside = catalogue().parts[operation.place.part].inside
            has = any(type(element).__name__ == "Fuse" for element in inside)
            assert has == ("at first power" in line.text), line.text
