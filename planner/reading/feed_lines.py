"""A feed at the edge of a partial loom in one line: ``always live, fuse 8 A`` or ``live with ignition``."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, get_args

from planner.model.loom import Feed, Known
from planner.model.names import meanings_of_name
from planner.reading.typed_numbers import NUMBER, read_number
from planner.reading.typed_values import NotUnderstood, plain

EXAMPLES = (
    "always live, live with ignition, live with lights, live with accessories or live with brakes; "
    "then ', fuse 8 A' if there is one"
)
_ALWAYS = re.compile(
    r"(?:always|permanently|constantly) (?:live|hot|fed)|(?:live|hot|fed) (?:always|permanently)"
)
_WITH = re.compile(r"(?:live|hot|fed) (?:with|by)(?: the)? ([a-z -]+?)(?: on)?(?: at (.+))?")
_FUSE = re.compile(
    rf"(?:fuse|fused(?: with| at)?)\s*({NUMBER})\s*(?:a|amps?)|({NUMBER})\s*(?:a|amps?)\s*fuse"
)
_NO_FUSE = re.compile(r"no fuse|not fused|unfused|without a? ?fuse")
# The comma before the fuse may be missing.
_COMMAS = re.compile(r",|\s(?=fused? (?:with |at )?\d)")


@dataclass(frozen=True, slots=True)
class _Kind:
    """What people call a switched feed: the conditions that may be meant, and labels at which it is dead."""

    conditions: tuple[str, ...]
    roles: tuple[str, str]  # without and with a fuse
    dead: tuple[str, ...] = ()


_LIGHTS = _Kind(("lights", "lighting"), ("58", "58"))
_KINDS: Mapping[str, _Kind] = {
    "ignition": _Kind(("ignition",), ("15", "ignition-fused"), ("acc", "accessory", "accessories")),
    "accessories": _Kind(
        ("accessories", "ignition"), ("75", "accessory-fused"), ("start", "crank", "cranking")
    ),
    "lights": _LIGHTS,
    "lighting": _LIGHTS,
    "brakes": _Kind(("brakes", "brake", "brake pedal"), ("54", "54")),
}
_SAME = {
    "key": "ignition",
    "accessory": "accessories",
    "side lights": "lights",
    "brake": "brakes",
    "brake pedal": "brakes",
}


def read_feed_line(text: str, variables: Mapping[str, tuple[str, ...]]) -> dict[str, Any]:
    """The feed as a loom's file says it, by the conditions and controls of the loom and their labels.

    Raises
    ------
    NotUnderstood
        If it says no feed, or the loom does not have what the feed is live with.
    """
    first, *others = [part.strip() for part in _COMMAS.split(plain(text)) if part.strip()] or [""]
    feed: dict[str, Any] = {}
    for other in others:
        fuse = _FUSE.fullmatch(other)
        if fuse and "fuse_amps" not in feed:
            feed["fuse_amps"] = f"{read_number(fuse[1] or fuse[2]):.15g}"
        elif other in get_args(Known) and "known" not in feed:
            feed["known"] = other
        elif not _NO_FUSE.fullmatch(other):
            hint = f"'fuse 8 A' or one of {', '.join(get_args(Known))}"
            raise NotUnderstood(f"{text!r}: {other!r} is not understood", hint)
    is_fused = "fuse_amps" in feed
    if _ALWAYS.fullmatch(first):
        return {"role": "live-fused" if is_fused else "30", **feed}
    found = _WITH.fullmatch(first)
    name = _SAME.get(found[1], found[1]) if found else ""
    if found is None or name not in _KINDS:
        raise NotUnderstood(
            f"{text!r} is no feed in one line", f"{EXAMPLES}; or role and when, as in a loom's file"
        )
    condition, labels = _condition(text, name, variables)
    return {
        "role": _KINDS[name].roles[is_fused],
        "when": {condition: _at(text, found[2], labels, name)},
        **feed,
    }


def feed_line(feed: Feed, variables: Mapping[str, tuple[str, ...]]) -> str | None:
    """A feed in one line that reads back as the same, None if none does."""
    tail = f", fuse {feed.fuse_amps:.15g} A" if feed.fuse_amps is not None else ""
    tail += f", {feed.known}" if feed.known != "drawing" else ""
    lines = [f"always live{tail}"] if not feed.when else []
    for labels in feed.when.values():
        lines += [f"live with {name}{tail}" for name in _KINDS]
        lines += [f"live with {name} at {' or '.join(labels)}{tail}" for name in _KINDS]
    for line in lines:
        try:
            if Feed.model_validate(read_feed_line(line, variables)) == feed:
                return line
        except NotUnderstood:
            continue
    return None


def _condition(text: str, name: str, variables: Mapping[str, tuple[str, ...]]) -> tuple[str, tuple[str, ...]]:
    for called in _KINDS[name].conditions:
        meant = meanings_of_name(called, variables)
        if len(meant) > 1:
            raise NotUnderstood(f"{text!r}: {called!r} may mean {len(meant)} things here", " or ".join(meant))
        if meant:
            return meant[0], variables[meant[0]]
    called = _KINDS[name].conditions[0]
    hint = f'conditions: {{{called}: ["off", "on"]}} in the loom'
    raise NotUnderstood(f"{text!r}: the loom has no condition called {called!r}", hint)


def _at(text: str, said: str | None, labels: tuple[str, ...], name: str) -> list[str]:
    """The labels at which it is live: those that are said, else all but rest and what the kind is dead at."""
    if said:
        by_word = {plain(label): label for label in labels}
        wanted = [label.strip() for label in re.split(r" or | and ", said)]
        strange = [label for label in wanted if label not in by_word]
        if strange:
            raise NotUnderstood(f"{text!r}: {strange[0]!r} is no value of it", f"one of: {', '.join(labels)}")
        return [by_word[label] for label in wanted]
    rest = "off" if "off" in labels else labels[0]
    return [label for label in labels if label != rest and label not in _KINDS[name].dead]
