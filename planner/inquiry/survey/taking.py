"""Takes the answer to one line into the wires and places of a pattern."""

from dataclasses import dataclass, field, replace

from planner.inquiry.survey.far_ends import FarEnds
from planner.inquiry.survey.matching import agrees, settles
from planner.inquiry.survey.one_cause import OneCause
from planner.inquiry.survey.prepare import Survey
from planner.inquiry.survey.wires import Wires
from planner.model.catalogue import Catalogue
from planner.model.job import Job
from planner.model.loom import Known, Loom, Place
from planner.model.part import Mounting
from planner.model.reach import conductor
from planner.model.survey_lines import Answer, Answers, Asked, MeterReading
from planner.model.wording import colour_words, mark_words

MOST_OHMS_OF_A_MOUNTING = 1.0  # more loses volts under load: common practice, no source


@dataclass(frozen=True, slots=True)
class Understood:
    """One line as it was taken: what is there, and how well that is known."""

    asked: Asked
    answer: Answer
    known: Known
    says: str
    tag: str = ""  # what its wire is called in the person's own loom


@dataclass(frozen=True)
class Surveyed:
    """A person's own loom and job, what was understood, and where the pattern was overruled."""

    survey: Survey
    answers: Answers
    job: Job
    loom: Loom
    lines: tuple[Understood, ...]
    overruled: tuple[str, ...]
    doubts: tuple[OneCause, ...] = ()

    @property
    def open(self) -> int:
        """How many lines nothing is known of."""
        return sum(line.answer.is_blank for line in self.lines)


@dataclass
class Taking:
    """Takes answers one after another into the wires and places of a template."""

    survey: Survey
    catalogue: Catalogue
    answers: Answers
    wires: Wires
    ends: FarEnds
    places: dict[str, Place]
    lines: list[Understood] = field(default_factory=list)
    overruled: list[str] = field(default_factory=list)

    @property
    def loom(self) -> Loom:
        """The pattern's loom."""
        return self.survey.loom

    def point(self, asked: Asked) -> str:
        """The line as people point at it."""
        title = self.survey.titles[asked.place].partition(",")[0]
        return (
            f"{title}, mounting" if asked.kind == "mounting" else f"{mark_words(asked.mark)} on the {title}"
        )

    def pattern(self, asked: Asked) -> str:
        """What is assumed of a line until it is measured."""
        return f"pattern: {self.survey.measurings[asked.key].expected}"

    def overrule(self, asked: Asked, found: str) -> None:
        """Say that the pattern was wrong at a line, and what was found there."""
        how = self.survey.measurings.get(asked.key)
        pattern = f"the pattern has it so: {how.expected}" if how else "the pattern has no such wire"
        self.overruled.append(f"{self.point(asked)}: {pattern}; {found}")

    def note(self, asked: Asked, answer: Answer, known: Known, says: str) -> None:
        """Keep how a line was understood."""
        self.lines.append(Understood(asked, answer, known, says, asked.wire))


def take_end(taking: Taking, asked: Asked, answer: Answer) -> None:
    """One wire's end at a part that comes out, or a terminal there without a wire."""
    if asked.kind == "empty":
        if answer.colour is None and answer.reading is None:
            taking.note(asked, answer, "seen" if answer.no_wire else "assumed", "no wire")
            return
        taking.overrule(asked, f"you found {wire_found(answer)}: taken as found")
        add_wire(taking, asked, answer)
        return
    if answer.no_wire:
        taking.overrule(asked, "you found no wire: taken as found")
        taking.wires.drop(asked.wire, asked.end)
        taking.note(asked, answer, "seen", "no wire")
        return
    wires = taking.wires
    wires.dress(asked.wire, asked.end, answer)
    reading = answer.reading
    if reading is None:
        known: Known = "assumed" if answer.is_blank else "seen"
        wires.weigh(asked.wire, asked.end, known)
        taking.note(asked, answer, known, taking.pattern(asked))
    elif agrees(reading, asked):
        settled = settles(reading, asked)
        wires.weigh(asked.wire, asked.end, "measured" if settled else "seen")
        if settled:
            wires.settle(asked.wire)
            if reading.kind == "link":
                wires.linked.add(asked.wire)
            _settle_conductor(taking, asked, reading)
        taking.note(asked, answer, "measured" if settled else "seen", reading.said)
    else:
        far = taking.ends.of(reading, asked)
        lost = "" if far != "unknown" else "; where it goes is not known now"
        taking.overrule(asked, f"the meter says {reading.said}: the meter wins{lost}")
        wires.lead(asked.wire, asked.end, far)
        taking.note(asked, answer, "measured", reading.said)


def _settle_conductor(taking: Taking, asked: Asked, reading: MeterReading) -> None:
    """What is live or earthed at one end is so on the whole conductor, wherever it was measured."""
    if reading.kind not in ("live", "earth") or asked.nature == "load":
        return
    loom = taking.loom
    for address in asked.addresses:
        if address.startswith("earth"):
            continue
        for at in conductor(loom, address):
            for wire, _ in loom.ends_at.get(at, ()):
                taking.wires.settle(wire)


def take_feed(taking: Taking, asked: Asked, answer: Answer) -> None:
    """A terminal of a part that stays, from which a new part may be fed."""
    if asked.wire and answer.colour is not None:
        taking.wires.dress(asked.wire, asked.end, answer)
    reading = answer.reading
    if reading is None:
        known: Known = "assumed" if answer.is_blank else "seen"
        taking.note(asked, answer, known, taking.pattern(asked))
        return
    if agrees(reading, asked):
        for at in conductor(taking.loom, f"{asked.place}:{asked.mark}"):
            for wire, _ in taking.loom.ends_at.get(at, ()):
                taking.wires.settle(wire)
        taking.note(asked, answer, "measured", reading.said)
        return
    taking.overrule(
        asked, f"the meter says {reading.said}: nothing is fed from there before that is cleared up"
    )
    taking.wires.unsettle_place(asked.place)
    taking.note(asked, answer, "assumed", reading.said)


def take_mounting(taking: Taking, asked: Asked, answer: Answer) -> Mounting:
    """Whether a part's bracket earths it: doubtful as long as nobody has measured."""
    fitted = taking.places.get(asked.place)
    swap = next(s for s in taking.survey.job.swaps if s.at == asked.place)
    drawn: Mounting = fitted.mounting if fitted else swap.mounting or "metal"
    reading = answer.reading
    if reading is None:
        found: Mounting = "doubtful" if drawn == "metal" else drawn
        taking.note(asked, answer, "assumed", "not measured whether its mounting earths it")
        return found
    earthed = reading.kind == "earth" and (reading.ohms or 0.0) <= MOST_OHMS_OF_A_MOUNTING
    found = "metal" if earthed else ("doubtful" if reading.kind in ("earth", "ohms") else "insulated")
    if (found == "metal") is not (drawn == "metal"):
        taking.overrule(asked, f"the meter says {reading.said}: the meter wins")
    taking.note(asked, answer, "measured", reading.said)
    return found


def add_wire(taking: Taking, asked: Asked, answer: Answer) -> None:
    """A wire that the pattern does not have, from its terminal to where the meter says."""
    far = taking.ends.of(answer.reading, asked) if answer.reading else "unknown"
    name = taking.wires.add(f"{asked.place}:{asked.mark}", far, answer)
    known: Known = "measured" if answer.reading else "seen"
    says = answer.reading.said if answer.reading else "where it goes is not known"
    taking.note(replace(asked, wire=name), answer, known, says)


def wire_found(answer: Answer) -> str:
    """A wire in the words of its finder."""
    colour = f"a {colour_words(answer.colour)} wire" if answer.colour else "a wire"
    return f"{colour} ({answer.reading.said})" if answer.reading else colour
