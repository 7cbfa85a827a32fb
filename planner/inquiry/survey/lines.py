"""The lines of a survey, one for each wire's end at the parts in hand, and what the pattern has there."""

from collections.abc import Iterator
from dataclasses import replace

from planner.inquiry.survey.cutting import Template
from planner.inquiry.survey.kept import past_ammeters, without
from planner.model.catalogue import Catalogue
from planner.model.elements import AnyElement
from planner.model.facts import ConductorFact, Facts, Nature
from planner.model.loom import Loom, split_address
from planner.model.part import Part, Terminal
from planner.model.reach import gives_current
from planner.model.survey_lines import Asked
from planner.proof.facts import conductor_facts


def asked_lines(template: Template, catalogue: Catalogue) -> tuple[Asked, ...]:
    """Every line of a survey: the swapped places in the job's order, then feeds that a new part may need."""
    loom = template.loom
    found: list[Asked] = []
    for place in template.swapped:
        off = conductor_facts(without(past_ammeters(loom, catalogue), [place]), catalogue)
        part = catalogue.parts[loom.places[place].part]
        for mark, terminal in part.terminals.items():
            if terminal.by == "wire":
                found += _at_terminal(loom, off, place, mark, terminal)
    for swap in template.job.swaps:
        found += _mountings(template, catalogue, swap.at, swap.fit)
    if _wants_a_feed(template, catalogue):
        found += _feeds(template, catalogue)
    return tuple(_named(line, template, catalogue) for line in found)


def _named(line: Asked, template: Template, catalogue: Catalogue) -> Asked:
    """A line with what its terminal is called, and whether anything is stamped there to find it by."""
    role = catalogue.roles.get(line.role) if line.role else None
    does = (role.words[0] if role.words else role.meaning) if role else ""
    if line.nature.endswith("-live"):  # where it comes from is more to the point than what shares it
        source = [at for at in line.addresses if _feeds_on(at, template.loom, catalogue)]
        line = replace(line, addresses=tuple(dict.fromkeys((*source, *line.addresses))))
    fitted = template.loom.places.get(line.place)
    terminal = catalogue.parts[fitted.part].terminals.get(line.mark) if fitted else None
    return replace(line, does=does, is_stamped=terminal is None or terminal.stamped)


def _at_terminal(loom: Loom, off: Facts, place: str, mark: str, terminal: Terminal) -> Iterator[Asked]:
    ends = loom.ends_at.get(f"{place}:{mark}", ())
    if not ends:
        yield Asked(place, mark, "empty", role=terminal.role, fitting=terminal.fitting)
    for number, (wire, end) in enumerate(ends, 1):
        fact = off.at(f"end:{wire}:{end}")
        yield _line(loom, place, mark, number, len(ends), wire, end, terminal, fact)


def _line(
    loom: Loom,
    place: str,
    mark: str,
    number: int,
    count: int,
    wire: str,
    end: int,
    terminal: Terminal,
    fact: ConductorFact,
) -> Asked:
    heads = [other.at for n, other in enumerate(loom.find(wire).ends) if n != end]
    beyond = [at for at in (*heads, *fact.addresses) if not at.startswith("end:") and at != "loose"]
    return Asked(
        place=place,
        mark=mark,
        kind="wire",
        number=number,
        count=count,
        wire=wire,
        end=end,
        role=terminal.role,
        fitting=loom.find(wire).ends[end].fitting or terminal.usual_end,
        nature=fact.nature,
        when=fact.when.replace(" starting ", " "),  # a motor that starts parked is, at the bench, parked
        depends_on=fact.depends_on,
        loads=fact.loads,
        addresses=tuple(dict.fromkeys(at for at in beyond if split_address(at)[0] != place)),
    )


def _mountings(template: Template, catalogue: Catalogue, place: str, fit: str) -> Iterator[Asked]:
    """Yield the mounting of a place where the old or the new part is earthed by it."""
    fitted = template.loom.places.get(place)
    parts = [
        catalogue.parts[name] for name in (fitted.part if fitted else "", fit) if name in catalogue.parts
    ]
    by_mounting = [t for part in parts for t in part.terminals.values() if t.by == "mounting"]
    if by_mounting:
        swap = next(s for s in template.job.swaps if s.at == place)
        mounting = fitted.mounting if fitted else swap.mounting or "metal"
        nature: Nature = "earth" if mounting == "metal" else "dead"
        yield Asked(place, "mounting", "mounting", role=by_mounting[-1].role, nature=nature)


def _wants_a_feed(template: Template, catalogue: Catalogue) -> bool:
    """Whether a new part has a terminal that wants a feed and the old one has none of its role."""
    for swap in template.job.swaps:
        fitted = template.loom.places.get(swap.at)
        old = catalogue.parts[fitted.part].terminals.values() if fitted else ()
        roles = {terminal.role for terminal in old}
        new = catalogue.parts[swap.fit].terminals.values() if swap.fit in catalogue.parts else ()
        for terminal in new:
            role = catalogue.roles.get(terminal.role) if terminal.role else None
            wants = terminal.wants or (role.wants if role else "nothing")
            if terminal.role not in roles and wants in ("live", "ignition"):
                return True
    return False


def _feeds(template: Template, catalogue: Catalogue) -> Iterator[Asked]:
    """Yield the outputs of parts that stay which a new part may be fed from."""
    loom = template.loom
    facts = conductor_facts(past_ammeters(loom, catalogue), catalogue)
    for place, fitted in loom.places.items():
        part = catalogue.parts[fitted.part]
        if place in template.swapped or any(_uses_current(element) for element in part.inside):
            continue
        for mark, terminal in part.terminals.items():
            fact = facts.at(f"{place}:{mark}")
            if fact.nature in ("always-live", "ignition-live") and _is_output(
                part, catalogue, mark, terminal
            ):
                ends = loom.ends_at.get(f"{place}:{mark}", ())
                yield Asked(
                    place,
                    mark,
                    "wire" if ends else "empty",
                    wire=ends[0][0] if ends else "",
                    end=ends[0][1] if ends else 0,
                    role=terminal.role,
                    fitting=terminal.usual_end,
                    nature=fact.nature,
                    when=fact.when,
                    depends_on=fact.depends_on,
                    addresses=(f"{place}:{mark}",),
                    is_swapped=False,
                )


def _feeds_on(address: str, loom: Loom, catalogue: Catalogue) -> bool:
    place, mark = split_address(address)
    fitted = loom.places.get(place)
    return fitted is not None and gives_current(catalogue.parts[fitted.part], catalogue, mark)


def _uses_current(element: AnyElement) -> bool:
    return bool(getattr(element, "does", None))


def _is_output(part: Part, catalogue: Catalogue, mark: str, terminal: Terminal) -> bool:
    return terminal.by == "wire" and gives_current(part, catalogue, mark)
