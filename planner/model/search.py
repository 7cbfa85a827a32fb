"""Finds parts by the words people use for them, British or American."""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from types import MappingProxyType

from planner.model.catalogue import Catalogue
from planner.model.narrowing import Narrowing
from planner.model.part import Part, Role

# Each group says one thing; trade usage, common practice, no source.
SYNONYMS: tuple[tuple[str, ...], ...] = (
    ("loom", "harness"),
    ("left", "lh", "left hand"),
    ("right", "rh", "right hand"),
    ("nearside", "ns", "near side"),
    ("offside", "os", "off side"),
    ("earth", "ground"),
    ("earthed", "grounded"),
    ("live", "hot"),
    ("main dip", "high low beam", "dip"),
    ("dip switch", "dimmer switch"),
    ("main beam", "high beam"),
    ("dipped beam", "low beam"),
    (
        "side lamp",
        "parking lamp",
        "side light",
        "parking light",
        "marker lamp",
        "marker light",
        "sidelight",
        "clearance light",
    ),
    ("tail lamp", "tail light", "taillight", "taillamp"),
    ("stop lamp", "stop light", "stoplight", "brake lamp", "brake light"),
    (
        "number plate lamp",
        "license plate lamp",
        "licence plate lamp",
        "license plate light",
        "plate light",
        "license light",
        "licence light",
        "tag light",
    ),
    ("reversing lamp", "back up lamp", "backup lamp", "back up light", "backup light", "reverse light"),
    ("dynamo", "generator"),
    ("control box", "regulator"),
    ("bulkhead", "firewall"),
    ("indicator", "turn signal", "turn lamp", "directional", "directional signal", "blinker"),
    ("interior lamp", "dome lamp", "interior light", "dome light", "courtesy light"),
    ("boot", "trunk"),
    ("bonnet", "hood"),
    ("fuel gauge", "gas gauge", "petrol gauge"),
    ("fuel", "gas", "petrol"),
    ("sender", "sending unit"),
    ("gauge", "gage"),
    ("temperature", "temp"),
    ("ammeter", "amp meter", "amp gauge"),
    ("warning lamp", "warning light", "tell tale", "idiot light"),
    ("hazard", "emergency", "four way"),
    ("fog lamp", "fog light", "foglight", "foglamp"),
    ("driving lamp", "driving light"),
    ("spot lamp", "spot light", "spotlight"),
    ("fuse box", "fuse block", "fuse panel"),
    ("battery isolator", "battery disconnect", "battery cutoff", "battery cut off", "master switch"),
    ("cut out", "cutout"),
    ("horn push", "horn button", "horn ring"),
    ("heater fan", "heater blower", "blower motor"),
    ("trailer socket", "trailer connector", "trailer plug", "trailer receptacle"),
    ("joiner", "splice"),
    ("door switch", "door jamb switch"),
    ("gearbox", "transmission"),
    ("wing", "fender"),
    ("stabiliser", "instrument regulator", "stabilizer"),
    ("headlamp", "headlight"),
    ("lamp", "light"),
    ("windscreen", "windshield"),
    ("colour", "color"),
)
_PHRASES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {phrase: tuple(p for p in group if p != phrase) for group in SYNONYMS for phrase in group}
)
_WORD = re.compile(r"[^\s,;:()/\"-]+")
_MORE = re.compile(
    r",| (?:at|beside|for|from|in|of|on|over|that|to|under|with|without|worked) "
)  # what follows in a title
_MOST_READINGS = 64  # a query of many words that all have synonyms
ANY = Narrowing()
SHORTEST_START = 3  # a shorter word must be met whole: "5" is not 53


@dataclass(frozen=True, slots=True)
class FoundParts:
    """Parts that answer to some words: those called so, and those that only have it in or on them."""

    called: tuple[Part, ...]
    otherwise: tuple[Part, ...]
    near: tuple[str, ...]  # words that some part is called by, like the ones that nothing answers to
    unknown: tuple[tuple[str, ...], ...]  # words that no part has, each with what else it is called

    @property
    def all(self) -> tuple[Part, ...]:
        """All of them, those that are called so first."""
        return self.called + self.otherwise


def find_parts(words: Sequence[str], catalogue: Catalogue, narrowing: Narrowing = ANY) -> FoundParts:
    """Find the parts that answer to all the words; no words at all find every part that is so.

    Those come first that are just that: by their id, then by their family, then by what their title begins
    with.
    """
    readings = _readings(words_of(" ".join(words)))
    called: list[Part] = []
    otherwise: list[Part] = []
    vocabulary: set[str] = set()
    for part in sorted(catalogue.parts.values(), key=lambda p: (p.family, p.part)):
        name = frozenset(words_of(part.part, part.title, part.family, *part.words))
        vocabulary |= name
        if not narrowing.fits(part):
            continue
        if any(_all_met(reading, name) for reading in readings):
            called.append(part)
        elif any(_all_met(reading, name | _inner_words(part, catalogue.roles)) for reading in readings):
            otherwise.append(part)
    if called or otherwise:
        called.sort(key=lambda part: _closeness(part, readings))
        return FoundParts(tuple(called), tuple(otherwise), (), ())
    everything = vocabulary.union(*(_inner_words(p, catalogue.roles) for p in catalogue.parts.values()))
    unknown = tuple(_unknown(readings, frozenset(everything)))
    near: dict[str, None] = {}
    for word, *others in unknown:
        if not others:  # else it is spelt as the trade spells it
            near |= dict.fromkeys(get_close_matches(word, sorted(vocabulary), n=3, cutoff=0.75))
    return FoundParts((), (), tuple(near), unknown)


def head_of(title: str) -> str:
    """What a title says that a part is, without what is told of it: ``Lamp`` of "Lamp, P21W, with ears"."""
    return _MORE.split(title)[0]


def _closeness(part: Part, readings: Sequence[tuple[str, ...]]) -> int:
    if words_of(part.part) == readings[0]:
        return 0
    if any(sorted(reading) == sorted(words_of(part.family)) for reading in readings):
        return 1
    itself = frozenset(words_of(part.part, head_of(part.title)))
    return 2 if any(_all_met(reading, itself) for reading in readings) else 3


def _unknown(readings: Sequence[tuple[str, ...]], known: frozenset[str]) -> Iterable[tuple[str, ...]]:
    """Yield the words of a query that no part has by any name, unless a reading is known whole."""
    if any(_all_met(reading, known) for reading in readings):
        return
    for word in dict.fromkeys(readings[0]):
        names = _readings((word,))
        if not any(_all_met(name, known) for name in names):
            yield tuple(" ".join(name) for name in names)


def answering(words: Sequence[str], called: Mapping[str, frozenset[str]]) -> tuple[str, ...]:
    """Those of some names whose words answer to all the words said; a plural counts as its singular."""
    readings = _readings(words_of(" ".join(words)))
    return tuple(
        name
        for name, known in called.items()
        if any(all(_is_met(word, known) for word in reading) for reading in readings)
    )


def _is_met(word: str, known: frozenset[str]) -> bool:
    singles = (
        {word, word.removesuffix("s"), word.removesuffix("es")} if len(word) > SHORTEST_START else {word}
    )
    return any(_all_met((single,), known) for single in singles)


def words_of(*texts: str) -> tuple[str, ...]:
    """The words of some texts in small letters, split at dashes as well as at spaces."""
    return tuple(word.lower() for text in texts for word in _WORD.findall(text))


def _inner_words(part: Part, roles: Mapping[str, Role]) -> frozenset[str]:
    """Words about what a part has: marks, roles, what its elements are for, its controls."""
    texts: list[str] = [part.note or ""]
    for mark, terminal in part.terminals.items():
        role = roles.get(terminal.role) if terminal.role else None
        texts += [mark, terminal.role or ""]
        texts += [role.meaning, *role.words] if role else []
    for element in part.inside:
        texts += [element.element, getattr(element, "does", None) or "", getattr(element, "name", None) or ""]
    marks = [mark.lower() for mark in part.terminals]  # a mark such as B+ or A-1 is one word as well
    return frozenset(words_of(*texts)) | frozenset(marks)


def _all_met(query: Iterable[str], words: frozenset[str]) -> bool:
    return all(
        word in words or (len(word) >= SHORTEST_START and any(other.startswith(word) for other in words))
        for word in query
    )


def _readings(query: tuple[str, ...]) -> list[tuple[str, ...]]:
    """The query and all that is the same in other words."""
    found: dict[tuple[str, ...], None] = {query: None}
    queue = [query]
    while queue and len(found) < _MOST_READINGS:
        for other in _one_exchanged(queue.pop(0)):
            if other not in found:
                found[other] = None
                queue.append(other)
    return list(found)


def _one_exchanged(query: tuple[str, ...]) -> Iterable[tuple[str, ...]]:
    for start in range(len(query)):
        for end in range(start + 1, len(query) + 1):
            for phrase in _PHRASES.get(_singular(query[start:end]), ()):
                yield (*query[:start], *phrase.split(), *query[end:])


def _singular(words: tuple[str, ...]) -> str:
    text = " ".join(words)
    return text[:-1] if text.endswith("s") and text[:-1] in _PHRASES else text
