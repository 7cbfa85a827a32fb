"""What people type about a vehicle under test: loads, settings, looks, volts and ohms, as they say them."""

import re
from collections.abc import Mapping, Sequence

from planner.model.catalogue import Catalogue
from planner.model.elements import Fuse, Gauge, Load
from planner.model.loom import Loom
from planner.model.observations import EVERYTHING, OPEN_OHMS, Look, Settings
from planner.model.wording import address_words
from planner.reading.look_words import read_look
from planner.reading.meter_words import OPEN
from planner.reading.place_words import name_words
from planner.reading.setting_words import setting_by_what_works
from planner.reading.terminal_words import read_terminal
from planner.reading.typed_numbers import NUMBER, read_number
from planner.reading.typed_values import NotUnderstood, plain
from planner.reading.validate import suggest

_VOLTS = re.compile(rf"(-?)\s*({NUMBER})\s*(m)?\s*(?:v|volts?)?")
_OHMS = re.compile(rf"({NUMBER})\s*(k|meg|m)?\s*(?:ohms?|ω|r)?")
_PLURAL = re.compile(r"\b(\w*(?:light|lamp|beam|wiper|horn|indicator|gauge))s\b")
MOST_VOLTS_SHARE = 2.0  # of the supply: no more is on any terminal of its wiring


def in_singular(text: str) -> str:
    """A text with one lamp in place of several."""
    return _PLURAL.sub(r"\1", text)


def _plurals(loads: Sequence[str]) -> str:
    """How to name all of those loads that do the same."""
    tasks = [load.partition("/")[2] for load in loads]
    several = [f"{task}s" for task in dict.fromkeys(tasks) if tasks.count(task) > 1]
    return f"; or {' or '.join(several)} for all of them" if several else ""


class SeenWords:
    """The loads, controls and conditions of one loom by the words that people use for them.

    ``ways``: a setting in which each load works, where they are known.
    """

    def __init__(self, loom: Loom, catalogue: Catalogue, ways: Mapping[str, Settings] | None = None) -> None:
        self.loom, self.catalogue = loom, catalogue
        self.ways: Mapping[str, Settings] = ways or {}
        self.loads: dict[str, str] = {}  # place/does: words
        self.gauges: dict[str, Gauge] = {}
        self.variables: dict[str, tuple[Sequence[str], Sequence[str], str]] = {}  # labels, meanings, words
        for place, fitted in loom.places.items():
            part = catalogue.parts[fitted.part]
            title = loom.place_title(place)
            for element in part.inside:
                if isinstance(element, Load) and (does := getattr(element, "does", None)):
                    self.loads[f"{place}/{does}"] = f"{does} {title}"
                    if isinstance(element, Gauge):
                        self.gauges[f"{place}/{does}"] = element
            for name, control in part.controls.items():
                own = [p.label for p in control.positions], [p.meaning for p in control.positions]
                self.variables[f"{place}/{name}"] = (*own, f"{name} {title}")
            for name, values in part.variables.items():
                if name not in part.controls:
                    self.variables[f"{place}/{name}"] = (values, values, f"{name} {title}")
        for name, positions in loom.conditions.items():
            self.variables[name] = [p.label for p in positions], [p.meaning for p in positions], name

    def load(self, text: str) -> str:
        """The load that is meant, ``place/does``: by its name, or by words of its place and its task."""
        typed = text.strip()
        if typed in self.loads or typed == EVERYTHING:
            return typed
        known = {key: f"{words} {key.replace('.', ' ')}" for key, words in self.loads.items()}
        return self._named(typed, known, "load", "such as: left headlamp dipped beam")

    def known_load(self, text: str) -> str | None:
        """The load that is meant; None where that is none, or not one."""
        try:
            return self.load(text)
        except NotUnderstood:
            return None

    def ways_on(self, text: str) -> Settings:
        """A setting in which a load works; nothing where that is not known, or not of one kind of load."""
        one = self.known_load(text)
        loads = (one,) if one else self.loads_called(text, is_every=True)
        return next((self.ways[load] for load in loads if load in self.ways), ())

    def fuse(self, text: str) -> str:
        """The fused side of the fuse with a mark, if no other fuse has it; else nothing."""
        found = [
            f"{place}:{element.between[1]}"
            for place, fitted in self.loom.places.items()
            for element in self.catalogue.parts[fitted.part].inside
            if isinstance(element, Fuse) and plain(element.between[1]) == plain(text).removeprefix("number ")
        ]
        return found[0] if len(found) == 1 else ""

    def loads_called(self, text: str, *, is_every: bool = False) -> tuple[str, ...]:
        """The loads that a plural names, if they all do the same: the left and the right side lamp."""
        said = text.replace("/", " ").replace(".", " ").strip()
        if not is_every and not _PLURAL.search(said):
            return ()
        typed = set(name_words(in_singular(said)))
        does = {load: set(name_words(load.partition("/")[2])) for load in self.loads}
        found = [
            load
            for load, words in self.loads.items()
            if does[load] <= typed <= set(name_words(f"{words} {load}".replace("/", " ").replace(".", " ")))
        ]
        return tuple(found) if len({load.partition("/")[2] for load in found}) == 1 else ()

    def setting(self, text: str) -> tuple[str, str]:
        """A control or condition and the label it is at: ``lighting switch head``, ``ignition: on``."""
        try:
            return self._setting(text)
        except NotUnderstood:
            labels = {name: labels for name, (labels, _, _) in self.variables.items()}
            if found := setting_by_what_works(text, labels):
                return found
            raise

    def said(self, variable: str, label: str) -> str:
        """A setting in few words that are read back as the same."""
        short = f"{variable.rpartition('/')[2]} {label}"
        try:
            is_told = self.setting(short) == (variable, label)
        except NotUnderstood:
            is_told = False
        return short if is_told else f"{variable}: {label}"

    def _setting(self, text: str) -> tuple[str, str]:
        name, colon, label = text.rpartition(":")
        if not colon or name.strip() not in self.variables:
            name, label = self._split(re.sub(r"\b(?:is|at|the|set to)\b|[:=]", " ", text))
        variable = self._variable(name.strip())
        labels, meanings, _ = self.variables[variable]
        wanted = plain(label)
        for known, meaning in zip(labels, meanings, strict=True):
            if wanted in (plain(known), plain(meaning)):
                return variable, known
        raise NotUnderstood(f"{variable} has no position {label.strip()!r}", " or ".join(labels))

    def _split(self, text: str) -> tuple[str, str]:
        """A setting without a colon: as many words at its end as make a position of something."""
        words = text.split()
        every = {plain(w) for labels, meanings, _ in self.variables.values() for w in (*labels, *meanings)}
        for cut in range(1, len(words)):
            if plain(" ".join(words[cut:])) in every:
                return " ".join(words[:cut]), " ".join(words[cut:])
        if len(words) < 2:
            raise NotUnderstood(f"{text.strip()!r} is no setting", "a control and its position: ignition on")
        return " ".join(words[:-1]), words[-1]

    def _variable(self, text: str) -> str:
        if text in self.variables:
            return text
        known = {name: f"{words} {name.replace('.', ' ')}" for name, (*_, words) in self.variables.items()}
        return self._named(text, known, "control or condition", "such as: ignition switch")

    def _named(self, text: str, known: Mapping[str, str], kind: str, example: str) -> str:
        """The one name whose words hold all that were typed; the closest fit of several."""
        said = text.replace("/", " ").replace(".", " ")
        typed = set(name_words(said))
        own = {n: set(name_words(w.replace("/", " ").replace("-", " "))) for n, w in known.items()}
        fits = {name: len(words - typed) for name, words in own.items() if typed and typed <= words}
        if not fits:  # "headlights" names several, and is told which
            typed = set(name_words(in_singular(said)))
            fits = {name: len(words - typed) for name, words in own.items() if typed and typed <= words}
        least = min(fits.values(), default=0)
        best = [name for name, more in fits.items() if more == least]
        # "left stop lamp" fits both loads of a left tail and stop lamp: what each does tells which.
        does = [name for name in best if typed >= set(name_words(name.rpartition("/")[2]))]
        if len(best) == 1 or len(does) == 1:
            return (best if len(best) == 1 else does)[0]
        if best:
            more = _plurals(best) if kind == "load" else ""
            raise NotUnderstood(f"{text!r} may mean {len(best)} things", " or ".join(best[:4]) + more)
        shared = {name: len(words & typed) for name, words in own.items() if words & typed}
        nearest = [name for name, count in shared.items() if count == max(shared.values())]
        near = suggest(text, known) or " or ".join(nearest[:4]) or example
        raise NotUnderstood(f"there is no {kind} called {text!r}", near)

    def look(self, text: str, load: str) -> Look | float:
        """How a load looks; percent of its scale where a gauge reads a mark."""
        return read_look(text, self.loads.get(load, load), self.gauges.get(load))

    def where(self, text: str, end: str) -> str:
        """Where an end is that somebody looked at: yes, loose, or the mark that it is on instead."""
        wire, _, number = end.rpartition(".")
        should = self.loom.find(wire).ends[int(number)].at
        place, colon, mark = should.partition(":")
        words = plain(text).removeprefix("on ")
        if words in ("yes", "y", "it is", "right", plain(mark), plain(address_words(self.loom, should))):
            return should
        if words in (
            "no",
            "n",
            "loose",
            "off",
            "hangs loose",
            "not there",
            "missing",
            "unplugged",
            "disconnected",
        ):
            return "loose"
        if place in self.loom.places:
            marks = self.catalogue.parts[self.loom.places[place].part].terminals
            found = [each for each in marks if plain(each) == words]
            if found:
                return f"{place}{colon}{found[0]}"
        try:
            return read_terminal(words, self.loom, self.catalogue)
        except NotUnderstood:
            hint = "yes, loose, or the mark that it is on instead"
            raise NotUnderstood(f"{text!r} says not where it is", hint) from None

    def volts(self, text: str) -> float:
        """Volts as a meter shows them."""
        words = plain(text)
        if "ohm" in words or words.endswith(("ω", " a", "amps")):
            raise NotUnderstood(f"{text!r} is not in volts", "volts, such as 12.4 or 0,3 V")
        found = _VOLTS.fullmatch(words)
        if not found:
            raise NotUnderstood(f"{text!r} is no reading in volts", "volts, such as 12.4 or 0,3 V")
        sign, number, milli = found.groups()
        volts = round(read_number(number) * (1e-3 if milli else 1.0) * (-1.0 if sign else 1.0), 6)
        most = MOST_VOLTS_SHARE * self.loom.supply.volts
        if abs(volts) > most:
            message = f"{text!r} is more than a vehicle of {self.loom.supply.volts:g} V can have"
            raise NotUnderstood(message, f"a reading from -{most:g} to {most:g} V")
        return volts

    def ohms(self, text: str) -> float:
        """Ohms as a meter shows them; what is not joined is ``OPEN_OHMS``."""
        words = plain(text)
        if words in OPEN:
            return OPEN_OHMS
        if words in ("beep", "beeps"):
            return 1.0
        if words.startswith("-") or (_VOLTS.fullmatch(words) and words.endswith(("v", "volt", "volts"))):
            raise NotUnderstood(f"{text!r} is no reading in ohms", "ohms, such as 0.3, 1.2k, or open")
        found = _OHMS.fullmatch(words)
        if not found:
            raise NotUnderstood(f"{text!r} is no reading in ohms", "ohms, such as 0.3, 1.2k, or open")
        times = {"k": 1e3, "meg": 1e6, "m": 1e6, None: 1.0}[found[2]]
        return min(read_number(found[1]) * times, OPEN_OHMS)
