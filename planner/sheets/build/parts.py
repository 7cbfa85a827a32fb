"""The sheets of the catalogue's parts: a list of some, or one of them whole."""

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

from planner.model.catalogue import Catalogue
from planner.model.elements import AnyElement, Contact, Control
from planner.model.part import Part, Polarity, Terminal, Wants
from planner.model.search import FoundParts
from planner.model.wording import HELD, counted
from planner.sheets.build.contact_drawing import draw_contacts
from planner.sheets.build.contact_rows import contact_rows
from planner.sheets.build.face import face_sketch
from planner.sheets.build.kinds import kind_section, number_words, plain_name, unit_of
from planner.sheets.sheet import Block, Cell, Section, Sheet, Table, bullets, say

FITTINGS: Mapping[str, str] = MappingProxyType(
    {
        "blade": "push-on, {} mm",
        "stud": "stud M{}",
        "ring": "ring M{}",
        "bullet": "bullet",
        "screw": "screw",
        "bare": "bare end",
        "soldered": "soldered",
        "contact": "contact",
    }
)
WANTS: Mapping[Wants, str] = MappingProxyType(
    {
        "live": "must be live",
        "ignition": "must be live with the ignition",
        "earth": "must be earthed",
        "partner": "must have its partner",
        "nothing": "may stay empty",
    }
)
POLARITIES: Mapping[Polarity, str] = MappingProxyType(
    {
        "indifferent": "It works alike whichever pole is earthed.",
        "reverses": "With the other pole earthed it works the wrong way round until its leads are exchanged.",
        "repolarise": "With the other pole earthed it must be repolarised.",
        "negative-earth": "For negative earth only.",
        "positive-earth": "For positive earth only.",
    }
)


def parts_sheet(
    found: FoundParts, words: Sequence[str], kind: str | None = None, narrowed: str = ""
) -> Sheet:
    """Parts found by some words; at the end, if the words are a kind of element, what it takes.

    ``narrowed`` says to what they were narrowed down besides.
    """
    asked = ", ".join(text for text in (" ".join(words), narrowed) if text)
    title = f"Parts: {asked}" if asked else "All parts"
    sections: list[Section] = []
    if found.called:
        sections.append(Section("Called so" if words else "", (_list(found.called),)))
    if found.otherwise:
        sections.append(Section("With it inside, or on a terminal", (_list(found.otherwise),)))
    if kind:
        sections.append(kind_section(kind))
    sections.append(Section("", (say("'loomwright parts ID' shows a part whole.", "quiet"),)))
    return Sheet(title, tuple(sections))


def _list(parts: Sequence[Part]) -> Table:
    rows = tuple((Cell(p.part, "strong"), Cell(p.title), Cell(p.family, "quiet")) for p in parts)
    return Table(("Id", "Part", "Family"), rows)


def part_sheet(part: Part, catalogue: Catalogue) -> Sheet:
    """One part whole: terminals, positions, what is inside, source."""
    sections = (
        Section("", tuple(_opening(part))),
        Section("Terminals", (_terminals(part, catalogue), _wants(part, catalogue))),
        Section("Face", face_sketch(part) if any(t.face for t in part.terminals.values()) else ()),
        Section("What is joined in which position", tuple(_positions(part))),
        Section("Inside, with ratings", tuple(_inside(part))),
        Section("Source", (say(_source(part, catalogue)),)),
    )
    return Sheet(part.title, tuple(section for section in sections if section.blocks))


def _opening(part: Part) -> Iterator[Block]:
    yield say(
        f"Id: {part.part}. Family: {part.family}. Rated {number_words(part.volts)} V. Years: {part.years}. "
        f"Fitting it takes about {number_words(part.minutes)} min."
    )
    if part.mounts:
        earths = any(terminal.by == "mounting" for terminal in part.terminals.values())
        yield say(f"It is held {HELD[part.mounts]}{', and earthed by that on metal' if earths else ''}.")
    if part.polarity:
        yield say(POLARITIES[part.polarity])
    if part.must_not_be_earthed:
        yield say("Its case must not touch the body.", "warn")
    if part.must_not_be_crossed:
        yield say("Its leads must not be crossed: the wrong way round it is harmed.", "warn")
    if part.note:
        yield say(part.note, "note")


def _terminals(part: Part, catalogue: Catalogue) -> Table:
    rows = []
    for mark, terminal in part.terminals.items():
        role = catalogue.roles.get(terminal.role) if terminal.role else None
        does = f"{terminal.role}: {role.meaning}" if role else "not known"
        shown = mark if terminal.stamped else f"{mark} (not stamped)"
        rows.append((Cell(shown, "strong"), Cell(does), Cell(_fitting(terminal)), Cell(_holds(terminal))))
    return Table(("Mark", "Role", "Fitting", "Holds"), tuple(rows))


def _fitting(terminal: Terminal) -> str:
    if terminal.by == "mounting":
        return "its mounting"
    kind, _, size = terminal.fitting.partition("-")
    return FITTINGS[kind].format(size)


def _holds(terminal: Terminal) -> str:
    if terminal.by == "mounting":
        return "-"
    ends = counted(terminal.holds, "end")
    return ends if terminal.piggyback else f"{ends}, no piggyback"


def _wants(part: Part, catalogue: Catalogue) -> Block:
    """What each terminal cannot do without, the same words said once."""
    said: dict[str, list[str]] = {}
    for mark, terminal in part.terminals.items():
        role = catalogue.roles.get(terminal.role) if terminal.role else None
        wants = terminal.wants or (role.wants if role else "nothing")
        said.setdefault(WANTS[wants], []).append(mark)
    return bullets(tuple(f"{words}: {', '.join(marks)}" for words, marks in said.items()))


def _positions(part: Part) -> Iterator[Block]:
    return (draw_contacts(part, table) for table in contact_rows(part))


def _inside(part: Part) -> Iterator[Block]:
    texts = [_element(e) for e in part.inside if not isinstance(e, Contact | Control) or _is_rated(e)]
    if texts:
        yield bullets(tuple(texts))


def _is_rated(element: AnyElement) -> bool:
    return isinstance(element, Contact) and (element.amps is not None or element.overlaps)


def _element(element: AnyElement) -> str:
    """An element with everything that its file says of it."""
    said = []
    for field in type(element).model_fields:
        value = getattr(element, field)
        is_said = field in element.model_fields_set and value not in (None, False)
        if is_said and field not in ("element", "between", "join"):
            said.append(_value(field, value))
    where = ""
    if isinstance(element, Contact):
        where = f" {' with '.join(element.join)}"
    elif (between := getattr(element, "between", None)) is not None:
        where = f" from {between[0]} to {between[1]}"
    return f"{element.element}{where}: {', '.join(said)}" if said else f"{element.element}{where}"


def _value(field: str, value: object) -> str:
    name = plain_name(field)
    if isinstance(value, bool):
        return name
    if isinstance(value, int | float):
        number = f"{number_words(value)} {unit_of(field)}".strip()
        return f"{name} {number}" if name else number
    if isinstance(value, Mapping):
        unit = unit_of(field)
        pairs = [f"{key} {_plain(item)} {unit}".strip() for key, item in value.items()]
        return f"{name or 'at'} {', '.join(pairs)}"
    return str(value) if field == "does" else f"{name} {_plain(value)}"


def _plain(value: object) -> str:
    if isinstance(value, tuple):
        return " or ".join(str(item) for item in value)
    return number_words(value) if isinstance(value, int | float) else str(value)


def _source(part: Part, catalogue: Catalogue) -> str:
    found = catalogue.sources[part.source]
    edition = f", {found.edition}" if found.edition else ""
    page = f", page {found.page}" if found.page else ""
    return f"{found.title}{edition}{page}. Basis: {found.basis}."
