"""Where an end of a wire is, as people write it: a terminal, earth, a feed at the edge, a joiner, nowhere."""

import re
from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any, get_args

from planner.model.loom import Feed, Known, Loom
from planner.model.names import variables_of
from planner.model.part import Part, Role
from planner.problems import FilePlace
from planner.reading.feed_lines import read_feed_line
from planner.reading.lengths import read_length
from planner.reading.place_words import PlaceWords
from planner.reading.typed_values import NotUnderstood, plain

EXAMPLES = (
    "'wiper switch, dash / 53', 'dash.wiper-switch:53', 'earth', 'earth in the bay', "
    "'always live, fuse 8 A', 'joint:NAME', 'loose' or 'unknown'"
)
_EARTH = re.compile(
    r"(?:earth|ground|body|chassis)(?: point)?\b[\s,:/]*(?:(?:in|at|on)\b)?\s*(?:the\b)?\s*(.*)"
)
_LIVE = re.compile(r"(?:always|permanently|constantly|live|hot|fed)\b")
_NAMED = {
    "?": "unknown",
    "unknown": "unknown",
    "not known": "unknown",
    "loose": "loose",
    "not connected": "loose",
}
_JOINT = re.compile(r"(?:joint|joiner|splice)\s*[:\s]\s*([^:\s]+)")
_FEED = re.compile(r"(feed:[^:\s,]+)(?:\s*,\s*(.+))?", re.IGNORECASE)
_REMARKS = re.compile(r"(.*)\(([^()]*)\)\s*\Z", re.DOTALL)
_SPARE = re.compile(r"spare (.+)")
# "wiper switch terminal 53", "53 on the wiper switch".
_ON = re.compile(
    r"(?:(?:terminal|pin|mark|tab|post)\s+)?['‘\"]?(?P<mark>[^'’\"]+?)['’\"]?\s+on\s+(?P<place>.+)",
    re.IGNORECASE,
)
_WITH_TERMINAL = re.compile(
    r"(?P<place>.+?)[\s,]+(?:terminal|pin|mark|tab|post)\s+(?P<mark>\S.*)", re.IGNORECASE
)


@dataclass
class EndReader:
    """Reads ends for one loom, and gathers the feeds that are said in one line.

    ``feeds`` are in the form of a loom's file, by their address; ``feed_places`` where each stands.
    """

    loom: Loom
    parts: Mapping[str, Part]
    roles: Mapping[str, Role] = field(default_factory=dict)
    feeds: dict[str, dict[str, Any]] = field(default_factory=dict)
    feed_places: dict[str, FilePlace] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.words = PlaceWords.of(self.loom)
        self._hinted: set[str] = set()  # places at which it was said how to name marks
        self.variables = variables_of(self.loom, self.parts)

    def read(self, text: str, place: FilePlace) -> dict[str, str]:
        """An end as a loom's file says it; what stands in brackets after it says more of it.

        ``(seen)`` is how well it is known, ``(covered)`` that it is tied back, ``(spare 0.2 m)`` how much
        further it reaches.

        Raises
        ------
        NotUnderstood
            If it is nowhere in the loom, or may be in several places.
        """
        bare, more = _remarks(text)
        return {"at": self.address(bare, place), **more}

    def address(self, text: str, place: FilePlace) -> str:
        """Where an end is, as an address; ``place`` is where this is written."""
        said = plain(text)
        if not said:
            raise NotUnderstood("no end is given", EXAMPLES)
        if said in _NAMED:
            return _NAMED[said]
        exact = self._with_name(text)
        if exact or (text.startswith("earth:") and text[6:] in self.loom.zones):
            return exact or text
        earth, feed, joint = (
            _EARTH.fullmatch(said),
            _FEED.fullmatch(text.strip()),
            _JOINT.fullmatch(text.strip()),
        )
        if joint:
            return f"joint:{joint[1]}"
        if earth:
            return self._earth(text, earth[1])
        if feed:
            return self._feed(text, feed[1], feed[2], place)
        if _LIVE.match(said):
            return self._unnamed_feed(text, place)
        return self._terminal(text)

    def _earth(self, text: str, zone: str) -> str:
        if not zone:
            return "earth"
        meant = (zone,) if zone in self.loom.zones else self.words.zones_called(zone)
        if len(meant) != 1:
            hint = " or ".join(f"earth:{name}" for name in meant or self.loom.zones)
            what = f"may mean {len(meant)} zones" if meant else f"names no zone: none is called {zone!r}"
            raise NotUnderstood(f"{text!r} {what}", hint)
        return f"earth:{meant[0]}"

    def _feed(self, text: str, name: str, line: str | None, place: FilePlace) -> str:
        if line is not None:
            feed = read_feed_line(line, self.variables)
            own = self.loom.feeds.get(name)
            if own is not None and own != Feed.model_validate(feed):
                raise NotUnderstood(f"{text!r}: the loom says that {name} is another", name)
            if own is not None:
                return name
            if self.feeds.setdefault(name, feed) != feed:
                raise NotUnderstood(
                    f"{text!r}: {name} was said to be another at {self.feed_places[name]}", name
                )
            self.feed_places.setdefault(name, place)
        elif name not in self.loom.feeds and name not in self.feeds:
            hint = get_close_matches(name, self.loom.feeds, n=3) or [f"{name}, always live, fuse 8 A"]
            raise NotUnderstood(f"no feed is called {name!r}", " or ".join(hint))
        return name

    def _unnamed_feed(self, text: str, place: FilePlace) -> str:
        """A feed of its own; whether a second one of the same words is the same, only the person knows."""
        feed = read_feed_line(text, self.variables)
        name = "feed:" + re.sub(r"[^a-z0-9.]+", "-", plain(text)).strip("-")
        if name in self.feed_places or name in self.loom.feeds:
            where = f" at {self.feed_places[name]}" if name in self.feed_places else ""
            message = f"{text!r} is said{where} too, and may be the same feed or another"
            hint = f"'feed:NAME, {text.strip()}' in both: one name if it is the same, two if it is not"
            raise NotUnderstood(message, hint)
        self.feeds[name] = feed
        self.feed_places[name] = place
        return name

    def _terminal(self, text: str) -> str:
        pairs = list(_splits(text.strip()))
        for called, mark in pairs:
            places = self.words.places_called(called)
            if len(places) == 1 and (mark in self._marks(places[0]) or mark in self._said(places[0])):
                return self._mark(text, places[0], mark)
        if whole := self.words.places_called(text):
            return self._only_terminal(text, whole)
        for called, mark in pairs:
            places = self.words.places_called(called)
            if len(places) > 1:
                hint = " or ".join(f"'{place}:{mark}'" for place in places)
                raise NotUnderstood(f"{text!r} may mean {len(places)} places", hint)
            if places:
                return self._mark(text, places[0], mark)
        called, mark = pairs[0] if pairs else (text, "")
        near = [f"'{place}:{self._near_mark(place, mark)}'" for place in self.words.near(called)]
        raise NotUnderstood(f"no place is called {called.strip()!r}", " or ".join(near) or EXAMPLES)

    def _only_terminal(self, text: str, places: tuple[str, ...]) -> str:
        """The one terminal that wires go to at a place that is named alone."""
        found = [f"{place}:{mark}" for place in places for mark in self._marks(place, wired=True)]
        if len(found) != 1:
            hint = " or ".join(f"'{address}'" for address in found)
            raise NotUnderstood(f"{text!r} does not say which terminal", hint or EXAMPLES)
        return found[0]

    def _with_name(self, text: str) -> str | None:
        """``place:terminal`` with the place's own name, whatever its case."""
        place, colon, mark = (part.strip() for part in text.strip().partition(":"))
        by_name = {name.casefold(): name for name in self.loom.places}
        name = by_name.get(place.casefold())
        return self._mark(text, name, mark) if colon and name is not None else None

    def _marks(self, place: str, *, wired: bool = False) -> tuple[str, ...]:
        """The marks of the part at a place, or those only that wires go to."""
        part = self.parts.get(self.loom.places[place].part)
        terminals = part.terminals if part else {}
        return tuple(mark for mark, terminal in terminals.items() if terminal.by == "wire" or not wired)

    def _said(self, place: str) -> Mapping[str, str]:
        """What the list calls the terminals of a place."""
        return self.loom.places[place].marks

    def _mark(self, text: str, place: str, mark: str) -> str:
        marks, own = self._marks(place), self._said(place)
        mark = next((known for said, known in own.items() if said.casefold() == mark.casefold()), mark)
        alike = [known for known in marks if known.casefold() == mark.casefold()]
        if mark in marks or not marks:
            return f"{place}:{mark}"
        meant = alike or self._of_role(place, mark)
        if len(meant) == 1:
            return f"{place}:{meant[0]}"
        title = self.loom.place_title(place)
        hint = " or ".join(f"'{place}:{known}'{self._purpose(place, known)}" for known in alike or marks)
        if place not in self._hinted:
            self._hinted.add(place)
            hint += f"; or once for all rows, at {place} in the loom's file, marks: {{{mark}: {marks[0]}}}"
        raise NotUnderstood(f"{text!r}: no terminal of the {title} is marked {mark!r}", hint)

    def _purpose(self, place: str, mark: str) -> str:
        """What a terminal is for in a few words, in brackets; nothing where that is not known."""
        role = self.roles.get(self.parts[self.loom.places[place].part].terminals[mark].role or "")
        return f" ({role.words[0] if role.words else role.meaning})" if role else ""

    def _of_role(self, place: str, role: str) -> list[str]:
        """The terminals of a role beside which nothing is stamped: the 58 of a lamp without marks."""
        part = self.parts.get(self.loom.places[place].part)
        terminals = part.terminals if part else {}
        return [mark for mark, t in terminals.items() if not t.stamped and t.role == role and t.by == "wire"]

    def _near_mark(self, place: str, mark: str) -> str:
        marks = self._marks(place)
        return next((known for known in marks if known.casefold() == mark.casefold()), mark or "TERMINAL")


def is_elsewhere(text: str) -> bool:
    """Whether an end is written as no place of the vehicle: earth, a feed, a joiner, loose, unknown."""
    said = plain(_remarks(text)[0])
    patterns = (_EARTH, _FEED, _JOINT)
    return not said or said in _NAMED or bool(_LIVE.match(said)) or any(p.fullmatch(said) for p in patterns)


def earth_zone(text: str) -> str:
    """The zone that an earth is written to be in: ``bay`` of ``earth in the bay``; empty if none is said."""
    found = _EARTH.fullmatch(plain(_remarks(text)[0]))
    return found[1] if found else ""


def split_end(text: str, things: Container[str]) -> tuple[str, str]:
    """What an end as written calls its place, and the mark, which is empty if the text names none.

    A last word that is one of the ``things`` that parts are is no mark: ``left side lamp``, ``horn push``.
    """
    bare = _remarks(text)[0]
    called, mark = next(_splits(bare), (bare, ""))
    is_thing = mark.casefold() in things and not re.search(rf"[/:]\s*{re.escape(mark)}\Z", bare)
    return (bare, "") if is_thing else (called, mark)


def _splits(text: str) -> Iterator[tuple[str, str]]:
    """Every way to take a text apart into what may be a place and a mark, the plainest first."""
    for sign in ("/", ":"):
        at = [index for index, character in enumerate(text) if character == sign]
        for index in at:
            if text[:index].strip() and text[index + 1 :].strip():
                yield text[:index].strip(), text[index + 1 :].strip()
    for pattern in (_WITH_TERMINAL, _ON):
        if found := pattern.fullmatch(text):
            yield found["place"], found["mark"].strip()
    words = text.split()
    for last in range(len(words) - 1, 0, -1):
        yield " ".join(words[:last]), " ".join(words[last:])


def _remarks(text: str) -> tuple[str, dict[str, str]]:
    """The text without what stands in brackets at its end, if all of that says something of an end."""
    found = _REMARKS.fullmatch(text)
    more: dict[str, str] = {}
    for item in plain(found[2]).split(",") if found else ():
        spare = _SPARE.fullmatch(item.strip())
        if item.strip() in get_args(Known):
            more["known"] = item.strip()
        elif item.strip() == "covered":
            more["covered"] = "true"
        elif spare:
            metres = 0.0 if re.fullmatch(r"0+(\.0+)?( m)?", spare[1]) else read_length(spare[1], "m")
            more["spare_metres"] = f"{metres!r}"
        else:
            return text, {}
    return (found[1].strip(), more) if found else (text, {})
