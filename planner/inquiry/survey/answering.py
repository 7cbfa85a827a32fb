"""What the answers make of a template: a loom and a job in which each fact has its weight.

A meter's reading outweighs the pattern; what was overruled is said, never passed over.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from planner.inquiry.survey.far_ends import FarEnds
from planner.inquiry.survey.one_cause import one_cause
from planner.inquiry.survey.prepare import Survey
from planner.inquiry.survey.supplied import other_supply
from planner.inquiry.survey.taking import (
    Surveyed,
    Taking,
    Understood,
    add_wire,
    take_end,
    take_feed,
    take_mounting,
    wire_found,
)
from planner.inquiry.survey.unread import not_read, supply_doubt
from planner.inquiry.survey.wires import Wires
from planner.model.catalogue import Catalogue
from planner.model.delta import copy_loom
from planner.model.loom import Loom, Wire, split_address
from planner.model.part import Mounting
from planner.model.survey_lines import Answers, Asked
from planner.model.wording import colour_words


def take_answers(survey: Survey, answers: Answers, catalogue: Catalogue) -> Surveyed:
    """The loom and the job as a person described them; what is not answered stays assumed."""
    loom, asked = survey.loom, survey.asked
    places = dict(loom.places)
    taking = Taking(
        survey,
        catalogue,
        answers,
        Wires({wire.wire: wire for wire in loom.wires}),
        FarEnds(loom, catalogue.parts, catalogue.roles),
        places,
    )
    mountings: dict[str, Mounting] = {}
    for line in asked:
        answer = answers.of(line)
        if line.kind == "mounting":
            mountings[line.place] = take_mounting(taking, line, answer)
        elif line.is_swapped:
            take_end(taking, line, answer)
        else:
            take_feed(taking, line, answer)
    _take_supply(taking)
    _take_more(taking, asked)
    _tell_changing(taking, asked)
    for place in {line.asked.place for line in taking.lines if not line.answer.is_blank} & set(places):
        places[place] = places[place].model_copy(update={"known": "seen"})
    for place, mounting in mountings.items():
        if place in places:
            places[place] = places[place].model_copy(update={"mounting": mounting})
    swaps = tuple(
        swap
        if swap.at in places
        else swap.model_copy(update={"mounting": mountings.get(swap.at, swap.mounting)})
        for swap in survey.job.swaps
    )
    wires = taking.wires.all()
    causes = one_cause(survey, answers)
    doubts = [*supply_doubt(survey, answers), *(cause.doubt for cause in causes)]
    own = copy_loom(
        loom,
        wires=wires,
        piggybacks=_piggybacks(loom, wires, catalogue),
        places=places,
        feeds={**loom.feeds, **taking.ends.feeds},
        conditions={**loom.conditions, **taking.ends.conditions},
        assumed=tuple(not_read(survey, answers, catalogue)),
        doubts=tuple(doubts),
    )
    job = survey.job.model_copy(update={"swaps": swaps})
    lines = tuple(replace(line, tag=_tag(own, line)) for line in taking.lines)
    return Surveyed(survey, answers, job, own, lines, tuple(taking.overruled), causes)


def _tag(own: Loom, line: Understood) -> str:
    """What the wire on a line is called now: in parts, if it was led elsewhere or joined on the way."""
    here = [wire for wire, _ in own.ends_at.get(f"{line.asked.place}:{line.asked.mark}", ())]
    return (
        line.tag if line.tag in here else next((w for w in here if line.tag and w.startswith(line.tag)), "")
    )


def _take_supply(taking: Taking) -> None:
    """Say where the supply is not the pattern's, and which parts are then made for another."""
    loom, pattern = taking.loom, taking.survey.pattern
    if loom.supply == pattern.supply:
        return
    made = other_supply(loom, taking.catalogue)
    found = f"supply: the pattern has {pattern.supply.words}; yours is {loom.supply.words}: taken so"
    if made:
        found += (
            f". Parts of the pattern that are made for another supply: {', '.join(made)}. Put yours into "
            "loom.yaml in their places; 'loomwright parts --volts' finds some"
        )
    taking.overruled.append(found)


def _piggybacks(loom: Loom, wires: Sequence[Wire], catalogue: Catalogue) -> tuple[str, ...]:
    """The pattern's, and one for each end that was found on a terminal that holds no more."""
    found = list(loom.piggybacks)
    ends = Counter(end.at for wire in wires for end in wire.ends)
    for address, count in ends.items():
        place, mark = split_address(address)
        if place in loom.places:
            holds = catalogue.parts[loom.places[place].part].terminals[mark].holds
            drawn = len(loom.ends_at.get(address, ()))
            found += [address] * (count - max(holds + found.count(address), drawn))
    return tuple(sorted(found))


def _take_more(taking: Taking, asked: Sequence[Asked]) -> None:
    """Wires that a person found beside those of the pattern."""
    counts = {(line.place, line.mark): line for line in asked if line.is_swapped and line.kind != "mounting"}
    for (place, mark, number), answer in taking.answers.by_key.items():
        line = counts.get((place, mark))
        if line is not None and number > line.count and not answer.is_blank and not answer.no_wire:
            more = replace(line, kind="empty", number=number, wire="", nature="dead", addresses=(), loads=())
            taking.overrule(more, f"you found one more, {wire_found(answer)}: taken as found")
            add_wire(taking, more, answer)


def _tell_changing(taking: Taking, asked: Sequence[Asked]) -> None:
    """Say of which wires another colour was seen at the other end."""
    lines = {(line.wire, line.end): line for line in asked if line.wire}
    for name in taking.wires.changing():
        one, other = (
            f"{colour_words(taking.wires.colour_at(name, end))} at {taking.point(lines[name, end])}"
            for end in (0, 1)
        )
        ask = "" if name in taking.wires.linked else "; beep from one end to the other to be sure"
        taking.overruled.append(
            f"{one}, {other}: taken for one conductor that changes colour on the way{ask}"
        )
