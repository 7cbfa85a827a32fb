"""Looms, jobs and parts as YAML text that reads back as the same models; the one writer of such files."""

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from textwrap import wrap
from typing import Any

from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.part import Part

# What other readers of YAML would take for a truth value, nothing, a number or a sign stands in quotes.
_PLAIN = re.compile(r"[A-Za-z][A-Za-z0-9 ._/+-]*(?<! )")
# Fields that may be one value or several; ``colour`` of a wire whose legs are alike is one.
_ONE_OR_MORE = frozenset(("colour", "mm2", "metres", "at", "when"))
_WIDTH = 100  # of remarks
_WORDS = frozenset(("y", "n", "yes", "no", "on", "off", "true", "false", "null"))


def yaml_of(model: Loom | Job) -> str:
    """A loom or job as text: a line for each field, place, feed and wire; what is as usual is left out.

    The text reads back as an equal model.
    """
    data = model.model_dump(mode="json", by_alias=True, exclude_defaults=True)
    return "".join(f"{line}\n" for key, value in data.items() for line in _field(key, value))


def yaml_of_part(part: Part, remarks: Sequence[str] = ()) -> str:
    """A file with one part, as text; remarks stand above it as comments. It reads back as an equal part."""
    data = part.model_dump(mode="json", exclude_defaults=True)
    data["inside"] = [{element.pop("element"): element} for element in data.get("inside", ())]
    lines = [line for key, value in data.items() if value for line in _field(key, value)]
    above = [
        line
        for remark in remarks
        for line in wrap(remark, _WIDTH, initial_indent="# ", subsequent_indent="#   ")
    ]
    first, *rest = lines
    return "".join(f"{line}\n" for line in (*above, f"- {first}", *(f"  {line}" for line in rest)))


def _field(key: str, value: Any) -> Iterator[str]:
    if isinstance(value, Mapping) and value and all(isinstance(item, Mapping) for item in value.values()):
        yield f"{scalar_text(key)}:"
        for name, item in value.items():
            yield f"  {scalar_text(name)}: {_flow(item)}"
    elif isinstance(value, list) and value and all(isinstance(item, Mapping | str) for item in value):
        yield f"{scalar_text(key)}:"
        for item in value:
            yield f"  - {_flow(item, key)}"
    else:
        yield f"{scalar_text(key)}: {_flow(value, key)}"


def _flow(value: Any, key: str = "") -> str:
    if isinstance(value, Mapping):
        if key == "ends" and set(value) == {"at"}:
            return scalar_text(value["at"])
        if set(value) == {"label", "meaning"}:
            label, meaning = value["label"], value["meaning"]
            return (
                scalar_text(label)
                if label == meaning
                else f"{{{scalar_text(label)}: {scalar_text(meaning)}}}"
            )
        inner = {name: key if key == "when" else name for name in value}
        pairs = (f"{scalar_text(name)}: {_flow(item, inner[name])}" for name, item in value.items())
        return "{" + ", ".join(pairs) + "}"
    if isinstance(value, list):
        if len(value) == 1 and key in _ONE_OR_MORE:
            return _flow(value[0])
        return "[" + ", ".join(_flow(item, key) for item in value) + "]"
    return scalar_text(value)


def scalar_text(value: Any) -> str:
    """A single value as YAML text."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return repr(value).removesuffix(".0")
    if _PLAIN.fullmatch(value) and value.lower() not in _WORDS:
        return str(value)
    return json.dumps(value, ensure_ascii=False)
