"""One observation as a person types it: ``left headlamp dipped beam off with lighting switch head``."""

import re
from dataclasses import replace

from planner.model.loom import Loom
from planner.model.observations import BODY, OPEN_OHMS, TEST_LAMP, UNSET, Observation, Settings
from planner.reading.look_words import is_look
from planner.reading.seen_words import SeenWords
from planner.reading.settings_said import settings_said
from planner.reading.terminal_words import read_terminal
from planner.reading.typed_values import NotUnderstood, plain

FORMS = """\
left headlamp dipped beam off with lighting switch head
12.1 V at 53 on the wiper motor with ignition on, wiper switch slow
0.4 V from 30 on the fuse box to 1 on the fuse box
0.3 ohm from 31 on the wiper motor to earth
test lamp dark at B on the horn
wire W36 on 31b on the wiper motor
0.2 ohm from 1 on the fuse box to body with fuses out
fuse 3 on the fuse box blown
wire W36 warm
side lamps dim with headlights on"""
AT_REST = ("everything at rest", "everything off", "everything off and at rest", "all off", "nothing on")
_READING = re.compile(r"(?P<says>.+?)\s+(?:at|on|from|between)\s+(?P<at>.+?)(?:\s+(?:to|and)\s+(?P<to>.+))?")
_LAMP = re.compile(
    r"test lamp\s+(?P<says>\S+)\s+(?:at|on|from|between)\s+(?P<at>.+?)(?:\s+(?:to|and)\s+(?P<to>.+))?"
)
_FUSE = re.compile(r"fuse\s+(?:at\s+)?(?P<at>.+?)\s+(?:is\s+)?(?P<says>blown|sound|good|ok|whole)")
_WARM = re.compile(r"(?:wire\s+)?(?P<at>\S+)\s+(?:is\s+|gets\s+)?(?P<says>warm|hot|cold|cool)")
_END = re.compile(r"end (?P<wire>\S+)\.(?P<end>\d{1,3}) at (?P<at>\S.*)")
_SITS = re.compile(
    r"wire\s+(?P<wire>\S+)\s+(?:is\s+|hangs\s+|sits\s+)?(?P<how>on|loose|off|unplugged|disconnected)\b(?:\s+(?:at|from))?\s+(?P<at>.+)"
)
READING = re.compile(r"-?[\d.,]+|open|ol\b|beeps?\b")


def read_line(text: str, words: SeenWords, held: Settings = ()) -> Observation:
    """An observation from one line; what is not said of the controls is as ``held``.

    Raises NotUnderstood with what would be accepted.
    """
    said, _, when = text.strip().partition(" with ")
    is_bare = plain(when) in ("fuses out", "all fuses out", "the fuses out")
    when = "" if is_bare else when
    settings, at_rest = merged(held, when, words, said) if when else (held, ())
    low = plain(said)
    if found := _LAMP.fullmatch(low):
        word = {"off": "dark", "on": "lit", "bright": "lit", "glows": "dim"}.get(found["says"], found["says"])
        if word not in TEST_LAMP:
            raise NotUnderstood(f"{found['says']!r} says not how a test lamp looks", "lit, dim or dark")
        at, to = _address(found["at"], words), _address(found["to"], words)
        return Observation("lamp", at, word, () if is_bare else settings, to, text, has_fuses_out=is_bare)
    if found := _FUSE.fullmatch(low):
        says = "yes" if found["says"] == "blown" else "no"
        return Observation(
            "fuse", words.fuse(found["at"]) or _address(found["at"], words), says, settings, "", text
        )
    if (found := _WARM.fullmatch(low)) and (wire := _wire(found["at"], words.loom)):
        return Observation(
            "warm", wire, "yes" if found["says"] in ("warm", "hot") else "no", settings, "", text
        )
    if (found := _END.fullmatch(said.strip())) and (wire := _wire(found["wire"], words.loom)):
        at = "loose" if plain(found["at"]) == "loose" else _address(found["at"], words)
        return Observation("sits", f"{wire}.{found['end']}", at, (), "", text)
    if (found := _SITS.fullmatch(said.strip())) and (wire := _wire(found["wire"], words.loom)):
        return _sits(wire, found["how"], found["at"], words, text)
    if READING.match(low) and (found := _READING.fullmatch(said.strip())):
        read = _reading(found, words, settings, text)
        if is_bare and read.kind != "ohms":
            raise NotUnderstood(f"{text.strip()!r} is live, and the fuses are out", "ohms, or the fuses in")
        return replace(read, has_fuses_out=is_bare)
    return replace(_look(said, words, settings, text), at_rest=at_rest)


def merged(held: Settings, when: str, words: SeenWords, about: str = "") -> tuple[Settings, tuple[str, ...]]:
    """Settings with those of a text put in, and what it says to be at rest; ``about``: what else is said."""
    if plain(when) in AT_REST:
        return (), ()
    found, said = dict(held), set[str]()
    for each in re.split(r",|\band\b", when):
        if each.strip():
            more = settings_said(each.strip(), about, words)
            found |= more
            said |= more.keys()
    rest = {name for name, label in found.items() if label == words.variables[name][0][0]}
    return tuple(sorted(s for s in found.items() if s[0] not in rest)), tuple(sorted(said & rest))


def _sits(wire: str, how: str, where: str, words: SeenWords, text: str) -> Observation:
    """Which end of a wire is meant, and where it is: on an address, or loose at the one that it is off."""
    address = _address(where, words)
    ends = words.loom.find(wire).ends
    place = address.partition(":")[0]
    own = [n for n, end in enumerate(ends) if end.at == address] or [
        n for n, end in enumerate(ends) if end.at.partition(":")[0] == place
    ]
    if len(own) != 1:
        known = " or ".join(end.at for end in ends)
        raise NotUnderstood(f"{wire} has no one end at {where!r}", f"a part that it goes to: {known}")
    return Observation("sits", f"{wire}.{own[0]}", address if how == "on" else "loose", (), "", text)


def _reading(found: re.Match[str], words: SeenWords, settings: Settings, text: str) -> Observation:
    at, to = _address(found["at"], words), _address(found["to"], words)
    says = plain(found["says"])
    if re.search(r"ohm|ω|open|ol\b|beep|k$", says):
        return Observation("ohms", at, words.ohms(says), (), to, text)
    if not re.search(r"v(?:olts?)?$", says):
        raise NotUnderstood(f"{found['says']!r} has no unit", "V or ohm after the number")
    return Observation("volts", at, words.volts(says), settings, to, text)


def _look(said: str, words: SeenWords, settings: Settings, text: str) -> Observation:
    parts = said.replace(":", " ").split()
    for cut in range(1, len(parts)):
        tail = re.sub("^(?:is|are|stays?|remains?) ", "", plain(" ".join(parts[cut:])))
        if is_look(tail):
            load = words.load(" ".join(parts[:cut]))
            return Observation("looks", load, words.look(tail, load), settings, "", text)
    for cut in range(len(parts) - 1, 0, -1):
        if known := words.known_load(" ".join(parts[:cut])):
            words.look(" ".join(parts[cut:]), known)  # says what would be understood
    raise NotUnderstood(f"{text.strip()!r} is not understood", f"one of these:\n{FORMS}")


def _address(text: str | None, words: SeenWords) -> str:
    """An address by its name or words; earth as such and nothing are the battery's earthed post."""
    if text is None or plain(text) in ("earth", "ground", "battery earth", ""):
        return ""
    if plain(text) in ("body", "the body", "chassis", "bare metal", "metal", "bare metal of the body"):
        return BODY
    loom = words.loom
    if text in loom.ends_at:
        return text
    return read_terminal(text, loom, words.catalogue)


def _wire(text: str, loom: Loom) -> str | None:
    return next((wire.wire for wire in loom.wires if wire.wire.casefold() == text.casefold()), None)


def line_of(seen: Observation) -> str:
    """An observation as a line that reads back as the same."""
    when = ", ".join(f"{name}: {label}" for name, label in seen.settings)
    to = f" to {'body' if seen.to == BODY else seen.to}" if seen.to else ""
    when = "fuses out" if seen.has_fuses_out else when
    said = {
        "looks": f"{seen.at} {seen.says if isinstance(seen.says, str) else f'{seen.says:g} %'}",
        "volts": f"{seen.says} V from {seen.at}{to}",
        "ohms": f"{'open' if seen.says == OPEN_OHMS else f'{seen.says} ohm'} from {seen.at}{to}",
        "lamp": f"test lamp {seen.says} from {seen.at}{to}",
        "fuse": f"fuse {seen.at} {'blown' if seen.says == 'yes' else 'sound'}",
        "sits": f"end {seen.at} at {seen.says}",
        "warm": f"{seen.at} {'warm' if seen.says == 'yes' else 'cold'}",
    }[seen.kind]
    if not when and seen.kind not in UNSET:
        when = "everything at rest"
    return said + (f" with {when}" if when else "")
