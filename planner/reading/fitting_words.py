"""How an end attaches, as people write it: ``blade-6.3``, ``6.3 mm push-on``, ``1/4 in tab``, ``M8 ring``."""

import re

from planner.model.part import FITTING_PATTERN
from planner.reading.typed_values import NotUnderstood, plain

# Widths of push-on terminals, as inches are said for them: common practice, no source.
_WIDTHS = {
    "2.8": "2.8", "4.8": "4.8", "6.3": "6.3", "9.5": "9.5", "6.35": "6.3",
    ".110": "2.8", "0.110": "2.8", ".187": "4.8", "0.187": "4.8", "3/16": "4.8", ".250": "6.3",
    "0.250": "6.3", ".25": "6.3", "0.25": "6.3", "1/4": "6.3", ".375": "9.5", "0.375": "9.5", "3/8": "9.5",
}  # fmt: skip
_PLAIN = {
    "bullet": "bullet", "screw": "screw", "bare": "bare", "bare end": "bare", "stripped": "bare",
    "soldered": "soldered", "contact": "contact", "crimped contact": "contact", "pin": "contact",
}  # fmt: skip
_BLADE = re.compile(r"(?:push-?on|push on|blade|spade|tab|female spade)(?: (?:end|terminal|connector))?")
_RING = re.compile(r"(ring|eyelet|stud)(?: (?:end|terminal))?")
_SIZE = re.compile(r"\bm? ?(\d/\d{1,2}|\d*\.?\d+)\s*(?:mm|in|inch|\")?(?!\w)|(?<!\d)(\.\d+)")
_THREADS = ("4", "5", "6", "8", "10")
_EXAMPLES = "blade-6.3, bullet, ring-8, screw, bare, soldered or contact"


def read_kind(text: str) -> str:
    """A fitting as its code, or only its kind, ``blade`` or ``ring``, where no size is said at all.

    Raises
    ------
    NotUnderstood
        If it is no fitting, or of a size that there is not.
    """
    said = plain(text)
    if _BLADE.fullmatch(said):
        return "blade"
    ring = _RING.fullmatch(said)
    return read_fitting(text) if ring is None else "stud" if ring[1] == "stud" else "ring"


def read_fitting(text: str) -> str:
    """One fitting as its code.

    Raises
    ------
    NotUnderstood
        If it is no fitting, or does not say its size.
    """
    said = plain(text).removeprefix("a ").removeprefix("an ")
    if re.match(FITTING_PATTERN, said):
        return said
    if said in _PLAIN:
        return _PLAIN[said]
    found = _SIZE.search(said)
    size = (found[1] or found[2]) if found else ""
    kind = " ".join((_SIZE.sub(" ", said, count=1)).split()).strip(" ,-")
    if _BLADE.fullmatch(kind):
        if size in _WIDTHS:
            return f"blade-{_WIDTHS[size]}"
        raise NotUnderstood(
            f"{text!r} does not say its width", "blade-2.8, blade-4.8, blade-6.3 (1/4 in) or blade-9.5"
        )
    ring = _RING.fullmatch(kind)
    if ring:
        if size in _THREADS:
            return f"{'stud' if ring[1] == 'stud' else 'ring'}-{size}"
        raise NotUnderstood(f"{text!r} does not say its size", "ring-4, ring-5, ring-6, ring-8 or ring-10")
    raise NotUnderstood(f"{text!r} is no fitting", _EXAMPLES)
