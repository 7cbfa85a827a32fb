"""What the steps of every shipped job tell the reader to fit stands among its materials, and nothing else.

The steps are read as people read them: by their words.
"""

import re
from collections import Counter

import pytest
from planned import JOBS, benched, catalogue, worked

from planner.model.bench_sheet import BenchSheet
from planner.model.elements import Fuse
from planner.model.plan import PlanStep

# A terminal as steps name it, and what may stand behind it: one on each end of a wire.
_TERMINAL = re.compile(
    r"an? (?P<blade>[\d.]+ mm push-on terminal)(?P<two> at each end)?"
    r"|an? (?P<ring>M\d+ ring)(?P<rings> at each end| on each of its two wires)?"
    r"|an? (?P<plain>bullet|crimped contact|end to suit)(?P<plains> at each end)?"
)
_SHOP = {
    "bullet": "bullet",
    "crimped contact": "crimped contact, to suit its housing",
    "end to suit": "terminal to suit what it goes on",
}
_JOINED = re.compile(r"^(Join|Cut the terminal off) .*(joiner|M6 stud)|this joiner is new")


def terminals(step: PlanStep) -> Counter[str]:
    """The terminals that a step names, as a shop calls them."""
    found: Counter[str] = Counter()
    if step.fields.get("from_stock"):
        return found
    for match in _TERMINAL.finditer(step.text.partition("; on the same terminals")[0]):
        count = 2 if match["two"] or match["rings"] or match["plains"] else 1
        if match["blade"]:
            found[f"push-on terminal, {match['blade'].split()[0]} mm"] += count
        elif match["ring"]:
            found[f"ring, {match['ring'].split()[0]}"] += count
        else:
            found[_SHOP[match["plain"]]] += count
    return found


def needed(sheet: BenchSheet, *kinds: str) -> float:
    """How many of some kinds of material are needed."""
    return sum(line.amount for line in sheet.materials if line.kind in kinds)


def told(sheet: BenchSheet, pattern: str) -> int:
    """How often the steps say something."""
    return sum(len(re.findall(pattern, step.text)) for step in sheet.plan.steps)


@pytest.mark.parametrize("job", JOBS)
class TestMaterialsOfEveryJob:
    def test_terminals(self, job: str) -> None:
        sheet = benched(job)
        found: Counter[str] = Counter()
        for line in (line for line in sheet.materials if line.kind == "terminal"):
            found[line.what.partition(", for ")[0]] += int(line.amount)
        named = sum(map(terminals, sheet.plan.steps), Counter())
        assert named <= found
        # What is lengthened gets a terminal like the one it had.
        assert sum((found - named).values()) == told(sheet, "an end like the old one")

    def test_two_wires_in_one_terminal_are_told_with_the_size_for_both(self, job: str) -> None:
        sheet = benched(job)
        lines = [line for line in sheet.materials if line.kind == "terminal" and " + " in line.what]
        assert sum(line.amount for line in lines) == told(sheet, "both its wires in one crimp")
        for line in lines:
            size, _, wires = line.what.partition(", for ")[2].partition(": ")
            assert float(size.split()[0]) >= sum(float(w.split()[0]) for w in wires.split(" + ")), line

    def test_nothing_is_ordered_that_is_not_made(self, job: str) -> None:
        sheet = benched(job)
        assert not told(sheet, "none is made") and not any("none is made" in m.note for m in sheet.materials)

    def test_sleeves_for_push_on_terminals_and_bullets(self, job: str) -> None:
        sheet = benched(job)
        sleeves = [m for m in sheet.materials if m.kind == "sleeve" and "glue" not in m.what]
        crimped = [m for m in sheet.materials if m.kind == "terminal"]
        wanted = sum(m.amount for m in crimped if m.what.startswith(("push-on", "bullet")))
        assert sum(line.amount for line in sleeves) == wanted

    def test_boots_and_sleeving_for_what_is_live_without_a_fuse(self, job: str) -> None:
        sheet = benched(job)
        ends = [re.search("over its ring on (.*?): live", step.text) for step in sheet.plan.steps]
        rings = sum(match[1].count(" and ") + 1 for match in ends if match)
        assert needed(sheet, "boot") == rings
        sleeved = {n for line in sheet.materials if line.kind == "conduit" for n in line.steps}
        assert sleeved == {s.n for s in sheet.plan.steps if "no fuse is before this wire" in s.text}

    def test_glue_where_it_gets_wet(self, job: str) -> None:
        sheet = benched(job)
        glued = [m for m in sheet.materials if m.kind == "sleeve" and "glue" in m.what]
        assert sum(line.amount for line in glued) <= needed(sheet, "terminal")
        loom, wet = sheet.after, 0
        for step in (step for step in sheet.plan.steps if step.do == "re-end" and terminals(step)):
            place = loom.places.get(str(step.fields["at"]).partition(":")[0])
            wet += place is not None and loom.zones[place.zone].wet
        ends = [end for wire in sheet.making for end in wire.ends]
        wet += sum("glue" in sleeve for end in ends for sleeve in end.sleeves)
        assert sum(line.amount for line in glued) >= wet

    def test_joiners(self, job: str) -> None:
        sheet = benched(job)
        joined = sum(bool(_JOINED.search(step.text)) for step in sheet.plan.steps)
        joined += told(sheet, "crimp one joiner over all|joined in an? (?:insulated|sealed) joiner")
        assert needed(sheet, "joiner") == joined

    def test_caps(self, job: str) -> None:
        sheet = benched(job)
        covered = sum(step.do in ("cover", "hold") for step in sheet.plan.steps)
        off = told(sheet, r" until step \d+\b(?! joins)") + told(
            sheet, r"stays insulated until step \d+ joins"
        )
        at_power = sum(len(one.ends) for one in sheet.left_off) + told(
            sheet, "cap its free blade|cap it, tie it back and tag it"
        )
        assert needed(sheet, "cap") == covered + off + 2 * told(sheet, "tie both its ends back") + at_power

    def test_piggybacks_fuses_and_cords(self, job: str) -> None:
        sheet = benched(job)
        assert needed(sheet, "piggyback") == told(sheet, "Fit a piggyback")
        own = 0
        for step in sheet.plan.steps:
            if re.search("its fuses? stays? out until first power", step.text):
                inside = catalogue().parts[str(step.fields["part"])].inside
                own += sum(isinstance(element, Fuse) for element in inside)
        others = told(sheet, "Lay a fuse of")
        assert own <= needed(sheet, "fuse") <= own + others and bool(own + others) == bool(
            needed(sheet, "fuse")
        )
        cords = {n for line in sheet.materials if line.kind == "cord" for n in line.steps}
        assert cords == {step.n for step in sheet.plan.steps if "leave a draw cord" in step.text}

    def test_parts_and_what_they_are_fitted_with(self, job: str) -> None:
        sheet, parts = benched(job), catalogue().parts
        fitted = [parts[str(s.fields["part"])] for s in sheet.plan.steps if s.do in ("fit", "insert")]
        lines = {m.what: m.amount for m in sheet.materials if m.kind == "part"}
        assert lines == Counter(part.title for part in fitted)
        besides = " ".join(m.what for m in sheet.materials if m.kind == "with-part")
        assert ("gasket" in besides) == any("gasket" in (part.note or "") for part in fitted)
        assert ("clamp" in besides) == bool(told(sheet, "with a clamp for that post on it"))
        for line in sheet.materials:
            if line.kind == "with-part":  # nothing is laid out that no step puts on
                assert all(line.what in sheet.step(n).text for n in line.steps), line.what

    def test_wire_is_there_for_each_wire_that_is_made_or_lengthened(self, job: str) -> None:
        sheet = benched(job)
        pattern = re.compile("Make|Lay a thicker|.*lengthen it by|Put an? .* lead")
        made = {step.n for step in sheet.plan.steps if pattern.match(step.text)}
        assert {n for line in sheet.materials if line.kind == "wire" for n in line.steps} == made
        leads = {s.n for s in sheet.plan.steps if s.text.startswith("Use the finished lead")}
        assert {n for line in sheet.materials if line.kind == "lead" for n in line.steps} == leads

    def test_clips_and_grommets_for_wires_that_are_run(self, job: str) -> None:
        sheet = benched(job)
        run = {s.n for s in sheet.plan.steps if s.do in ("add", "renew")}
        long = {s.n for s in sheet.plan.steps if s.n in run and float(s.fields["metres"]) >= 0.3}
        long |= {s.n for s in sheet.plan.steps if float(s.fields.get("by_metres", 0)) >= 0.3}
        clipped = {n for line in sheet.materials if line.kind == "clip" for n in line.steps}
        assert clipped == long
        assert {n for line in sheet.materials if line.kind == "grommet" for n in line.steps} <= run

    def test_labels_for_whatever_is_tagged(self, job: str) -> None:
        sheet = benched(job)
        assert needed(sheet, "label") == len(sheet.labels)
        steps = [s for s in sheet.plan.steps if "wire" in s.fields]
        tagged = {str(s.fields["wire"]) for s in steps if re.search(r"\btag (it|them)\b", s.text)}
        assert tagged <= {label.wire for label in sheet.labels}
        old = sum("old wire" in label.note for label in sheet.labels)
        assert old == 2 * told(sheet, "tie both its ends back and tag them")

    def test_every_line_is_of_steps_that_there_are(self, job: str) -> None:
        numbers = {task for task, _ in enumerate(worked(job).ordered, 1)}
        for line in benched(job).materials:
            assert set(line.steps) <= numbers and (
                line.steps or re.search("at first power|for the way back", line.what + line.note)
            ), line
