"""What a meter said, in people's words: ``12 V with ignition``, ``0 ohms to body``, ``beeps to motor 53``."""

import re
from dataclasses import replace

from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.model.survey_lines import ALWAYS, IGNITION, LIGHTS, MeterReading, Method, ReadingKind
from planner.reading.fitting_words import read_kind
from planner.reading.ohm_words import take_ohms
from planner.reading.terminal_words import read_terminal
from planner.reading.typed_numbers import NUMBER, read_number
from planner.reading.typed_values import NotUnderstood, Unfinished, plain

EXAMPLES = (
    "12 V always, 12 V with ignition, 12 V with lights, 0 ohms to body, nothing, or beeps to a mark on a part"
)
WHEN = "always, with ignition, with lights, or with what"
# A battery reads so much of its nominal volts, flat or on charge: common practice, no source.
LEAST_OF_SUPPLY, MOST_OF_SUPPLY = 0.75, 1.3
MOST_OHMS_OF_EARTH = 2.0  # leads and probes count too: common practice, no source
_VOLTS = re.compile(rf"([-+−–]?) ?({NUMBER}) ?(?:volts?|v)\b(?: dc)?[,;:]? ?(.*)")
_LIVE = re.compile(
    r"(?:it is )?(?:live|hot|lit|lights|battery(?: volts?)?|supply(?: volts?)?"
    r"|(?:test )?lamp (?:lit|lights|on))\b[,;:]? ?(.*)"
)
_ALWAYS_LIVE = re.compile(r"(?:always|permanent(?:ly)?|constant(?:ly)?) (?:live|hot|on|feed)")
_ABOUT = re.compile(r"(?:about |approx\.? |~ ?|under |less than |< ?)(?=[\d.,])", re.IGNORECASE)
_BARE = re.compile(rf"({NUMBER})(?! ?(?:k|m|meg|v|volts?|r|ohms?|[ωΩ])\b)((?: .*)?)")
_READ_AGAIN = re.compile(r"[\s,;:(]*\b(?:read again|read twice|checked|same again|twice)\)?")
_BEEPS = re.compile(
    r"(?:it )?(?:beeps?|buzzes|continuity|connected|joined|goes|leads|same wire)\b(?: as)? ?(.*)"
)
_BODY = r"(?:to |from |against )?(?:the )?(?:bare )?(?:body|earth|ground|chassis|frame|metal)\b[,;:]? ?(.*)"
_EARTH = re.compile(rf"(?:it is |always )?(?:earthed|grounded|{_BODY})")
_TO_BODY = re.compile(_BODY)
_NOTHING = re.compile(
    r"(?:nothing|no reading|none|dead|open|ol|infinite|no volts?|zero volts?|no continuity|no beep"
    r"|dark|not lit|(?:test )?lamp (?:dark|off|out))(?: .*)?"
)
_WITH = re.compile(r"(?:only )?(?:with|when|while|if|in|at|after|as soon as)\b ?(?:the )?(.*)")
_ALWAYS = re.compile(
    r"(?:always|all the time|at all times|constant(?:ly)?|permanent(?:ly)?|key off too|)(?: live)?"
)
_IGNITION = re.compile(r"(?:ign(?:ition)?|key)(?: switch)?(?: is)?(?: turned)?(?: on)?(?: only)?")
_LIGHTS = re.compile(
    r"(?:side |tail |parking )?(?:lights?|lamps?|lighting(?: switch)?)(?: are| is)?(?: on)?(?: only)?"
)


def read_at_wire(text: str, loom: Loom, catalogue: Catalogue, method: Method | None = None) -> MeterReading:
    """What one reading says; terminals that it names are looked for in the loom.

    ``method`` is how it was asked for, if it was: then a bare figure is volts or ohms, and ohms are to the
    body. ``read again`` behind it says that it was taken a second time.

    Raises
    ------
    NotUnderstood
        If it is no reading, or one that cannot be on this supply; Unfinished if only words are missing.
    """
    said = text.strip()
    bare, again = _READ_AGAIN.subn("", said, count=1)
    found = _read(bare.strip().rstrip("."), loom, catalogue, method)
    return replace(found, said=said, is_read_again=bool(again))


def _read(said: str, loom: Loom, catalogue: Catalogue, method: Method | None) -> MeterReading:
    written = _ABOUT.sub("", said)
    typed = plain(written)
    if _is_fitting(said):
        message = f"{said!r} is how the end attaches, and stands in the table's column 'fitting'"
        raise NotUnderstood(message, EXAMPLES)
    if found := _BARE.fullmatch(typed):
        if method not in ("volts", "ohms", "bracket"):
            figure = found[1]
            raise Unfinished(f"{said!r} does not say of what", f"{figure} V, or {figure} ohms", "V or ohms")
        written = typed = f"{found[1]} {'v' if method == 'volts' else 'ohms'}{found[2]}".strip()
    if found := _VOLTS.fullmatch(typed):
        return _volts(said, read_number(found[2]), found[1] not in ("", "+"), found[3], loom)
    if ohms := take_ohms(written):
        rest = plain(ohms[1]) or ("to body" if method in ("ohms", "bracket") else "")
        return _ohms(said, ohms[0], rest, loom, catalogue)
    if found := _BEEPS.fullmatch(typed):
        return _ohms(said, 0.0, found[1], loom, catalogue)
    if found := _EARTH.fullmatch(typed):
        return MeterReading(said, "earth", _when(said, found[1] or ""), ohms=0.0)
    if _NOTHING.fullmatch(typed):
        return MeterReading(said, "nothing")
    if _ALWAYS_LIVE.fullmatch(typed):
        return MeterReading(said, "live")
    if found := _LIVE.fullmatch(typed):
        return MeterReading(said, "live", _when(said, found[1] or "?"))
    raise NotUnderstood(f"{said!r} is no reading" if said else "no reading is given", EXAMPLES)


def _is_fitting(text: str) -> bool:
    """Whether it names a push-on terminal, ring or bullet, with its size or without."""
    try:
        return read_kind(text).startswith(("blade", "ring", "stud", "bullet"))
    except NotUnderstood:
        return False


def _volts(said: str, volts: float, is_minus: bool, rest: str, loom: Loom) -> MeterReading:
    supply = loom.supply.volts
    if volts == 0:
        return MeterReading(said, "nothing", volts=0.0)
    if not LEAST_OF_SUPPLY * supply <= volts <= MOST_OF_SUPPLY * supply:
        message = f"{said!r}: this vehicle has {supply:g} V"
        least, most = LEAST_OF_SUPPLY * supply, MOST_OF_SUPPLY * supply
        hint = (
            f"{least:g} to {most:g} V; a voltage between is no answer yet: lamps off, ignition on, read again"
        )
        raise NotUnderstood(message, hint)
    rest = re.sub(r"^(?:to|against|from) (?:the )?(?:body|earth|ground|chassis)[,;:]? ?", "", rest)
    if not rest:
        hint = ", ".join(f"{supply:g} V {when}" for when in ("always", "with ignition", "with lights"))
        message = f"{said!r} does not say when"
        raise Unfinished(message, f"{hint} or {supply:g} V with whatever switches it", WHEN)
    return MeterReading(said, "live", _when(said, rest), volts=-volts if is_minus else volts)


def _ohms(said: str, ohms: float, rest: str, loom: Loom, catalogue: Catalogue) -> MeterReading:
    found = _TO_BODY.fullmatch(rest)
    if found or not rest:
        if not rest:
            hint = "0 ohms to body, or beeps to a mark on a part"
            raise Unfinished(f"{said!r} does not say to what", hint, "to body, or to a mark on a part")
        kind: ReadingKind = "earth" if ohms <= MOST_OHMS_OF_EARTH else "ohms"
        return MeterReading(said, kind, _when(said, (found[1] if found else "") or ""), ohms=ohms)
    if ohms > MOST_OHMS_OF_EARTH:
        message = f"{said!r}: a wire from end to end reads no more than {MOST_OHMS_OF_EARTH:g} ohms"
        raise NotUnderstood(message, f"{ohms:g} ohms to body, if that is meant")
    return MeterReading(said, "link", ohms=ohms, to=read_terminal(rest, loom, catalogue))


def _when(said: str, rest: str) -> str:
    """With what it is live or earthed, from the words behind the figure."""
    rest = rest.strip(" ,;:.")
    if _ALWAYS.fullmatch(rest):
        return ALWAYS
    bare = found[1] if (found := _WITH.fullmatch(rest)) else rest
    if _IGNITION.fullmatch(bare):
        return IGNITION
    if _LIGHTS.fullmatch(bare):
        return LIGHTS
    if rest in ("", "?"):
        raise Unfinished(f"{said!r} does not say when", WHEN, WHEN)
    if not found or not bare:
        raise NotUnderstood(f"{said!r} does not say when", WHEN)
    return "".join(sign if sign.isprintable() and sign not in ":/" else " " for sign in bare)[:60].strip()
