"""Where an end of a wire is, as people write it: a terminal, earth, a feed at the edge, a joiner, nowhere."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any

from planner.model.loom import Feed, Loom
from planner.model.names import variables_of
from planner.model.part import Part, Role
from planner.problems import FilePlace
from planner.reading.end_text import EARTH, FEED, JOINT, LIVE, NAMED, remarks, splits
from planner.reading.feed_lines import read_feed_line
from planner.reading.mark_words import POLES, as_marks, likely_marks, purpose_of
from planner.reading.place_words import PlaceWords, with_plain_sides
from planner.reading.typed_values import NotUnderstood, plain

EXAMPLES = (
    "'wiper switch, dash / 53', 'dash.wiper-switch:53', 'earth', 'earth in the bay', "
    "'always live, fuse 8 A', 'joint:NAME', 'loose' or 'unknown'"
)


@dataclass
class EndReader:
    """Reads ends for one loom, and gathers the feeds that are said in one line.

    ``feeds`` are in the form of a loom's file, by their address; ``feed_places`` where each stands.
    """

    loom: Loom
    parts: Mapping[str, Part]
    roles: Mapping[str, Role] = field(default_factory=dict)
    texts: Sequence[str] = ()  # all ends of the list
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
        bare, more = remarks(text)
        return {"at": self.address(bare, place), **more}

    def address(self, text: str, place: FilePlace) -> str:
        """Where an end is, as an address; ``place`` is where this is written."""
        said = plain(text)
        if not said:
            raise NotUnderstood("no end is given", EXAMPLES)
        if said in NAMED:
            return NAMED[said]
        exact = self._with_name(text)
        if exact or (text.startswith("earth:") and text[6:] in self.loom.zones):
            return exact or text
        earth, feed, joint = (
            EARTH.fullmatch(said),
            FEED.fullmatch(text.strip()),
            JOINT.fullmatch(text.strip()),
        )
        if joint:
            return f"joint:{joint[1].replace(' ', '-')}"
        if earth:
            return self._earth(text, earth[1])
        if feed:
            return self._feed(text, feed[1], feed[2], place)
        if LIVE.match(said):
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
        pairs = list(splits(with_plain_sides(text.strip())))
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
        pole = POLES.get(mark.casefold())
        meant = alike or ([pole] if pole in marks else self._of_role(place, mark))
        if len(meant) == 1:
            return f"{place}:{meant[0]}"
        title = self.loom.place_title(place)
        purposes = {m: purpose_of(self._part(place), m, self.roles) for m in alike or marks}
        hint = " or ".join(f"'{place}:{known}'{purpose}" for known, purpose in purposes.items())
        if place in self._hinted and not alike:
            hint = ""  # a list may have the mark in ten rows
        elif not alike:
            self._hinted.add(place)
            likely = as_marks(likely_marks(self._strange_marks(place, mark), self._part(place), self.roles))
            hint += f"; or once for all rows, at {place} in the loom's file, if it is so, {likely}"
        raise NotUnderstood(f"{text!r}: no terminal of the {title} is marked {mark!r}", hint)

    def _part(self, place: str) -> Part:
        return self.parts[self.loom.places[place].part]

    def _strange_marks(self, place: str, first: str) -> list[str]:
        """The marks that the list has at a place and its part has not."""
        found = {first.casefold(): first}
        known = {mark.casefold() for mark in (*self._marks(place), *self._said(place), *POLES)}
        for text in self.texts:
            pairs = splits(with_plain_sides(remarks(text)[0]))
            called = next((mark for name, mark in pairs if self.words.places_called(name) == (place,)), "")
            if called and called.casefold() not in known and not self._of_role(place, called):
                found.setdefault(called.casefold(), called)
        return list(found.values())

    def _of_role(self, place: str, role: str) -> list[str]:
        """The terminals of a role beside which nothing is stamped: the 58 of a lamp without marks."""
        part = self.parts.get(self.loom.places[place].part)
        terminals = part.terminals if part else {}
        return [mark for mark, t in terminals.items() if not t.stamped and t.role == role and t.by == "wire"]

    def _near_mark(self, place: str, mark: str) -> str:
        marks = self._marks(place)
        return next((known for known in marks if known.casefold() == mark.casefold()), mark or "TERMINAL")
