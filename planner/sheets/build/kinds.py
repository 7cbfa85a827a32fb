"""The sheet of one kind of element: its fields with unit, bounds and description, as the models have them."""

from collections.abc import Mapping
from types import MappingProxyType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from planner.model.elements import AnyElement, Pair, Position
from planner.sheets.sheet import Cell, Section, Table, say

KINDS: Mapping[str, type[AnyElement]] = MappingProxyType(
    {get_args(kind.model_fields["element"].annotation)[0]: kind for kind in get_args(AnyElement)}
)
_UNITS = (("watts", "W"), ("ohms", "ohm"), ("amps", "A"), ("volts", "V"), ("v", "V"))
_BOUNDS = (("gt", "above"), ("ge", "at least"), ("le", "at most"), ("lt", "below"))
_TYPES: Mapping[Any, str] = MappingProxyType(
    {float: "number", int: "whole number", str: "text", bool: "yes or no"}
)


def kind_section(kind: str) -> Section:
    """What can be said of a kind of element in a part file."""
    model = KINDS[kind]
    rows = [
        (
            Cell(name, "strong"),
            Cell("must be given" if field.is_required() else _default(field)),
            Cell(_form(name, field)),
            Cell(field.description or ""),
        )
        for name, field in model.model_fields.items()
        if name != "element"
    ]
    return Section(
        f"Element: {kind}",
        (
            say(" ".join((model.__doc__ or "").replace("``", "").split())),
            Table(("Field", "Given", "Form", "What it is"), tuple(rows)),
        ),
    )


def kind_json(kind: str) -> list[dict[str, Any]]:
    """The same fields as data."""
    return [
        {
            "field": name,
            "required": field.is_required(),
            "unit": unit_of(name),
            "form": _form(name, field),
            "description": field.description or "",
        }
        for name, field in KINDS[kind].model_fields.items()
        if name != "element"
    ]


def unit_of(field: str) -> str:
    """The unit that a field's name ends in."""
    last = field.rpartition("_")[2]
    return next((unit for suffix, unit in _UNITS if suffix == last), "")


def plain_name(field: str) -> str:
    """A field's name without its unit, as words."""
    return " ".join(word for word in field.split("_") if word not in dict(_UNITS))


def number_words(number: float) -> str:
    """A number without idle digits: ``0.005``, ``1,000,000``."""
    return f"{number:,.10g}"


def _default(field: FieldInfo) -> str:
    if field.default in (None, False, ()) or field.default_factory is not None:
        return "if need be"
    value = " or ".join(field.default) if isinstance(field.default, tuple) else field.default
    return f"else {number_words(value) if isinstance(value, int | float) else value}"


def _form(name: str, field: FieldInfo) -> str:
    bounds = [
        f"{words} {number_words(getattr(found, key))}"
        for key, words in _BOUNDS
        for found in field.metadata
        if isinstance(getattr(found, key, None), int | float)
    ]
    unit = unit_of(name)
    return ", ".join([f"{_type_words(field.annotation)}{f' in {unit}' if unit else ''}", *bounds])


def _type_words(annotation: Any) -> str:
    if annotation in _TYPES:
        return _TYPES[annotation]
    if annotation == Pair:
        return "two terminals or inner nodes"
    if annotation is Position:
        return "label, or label: meaning"
    origin, inner = get_origin(annotation), get_args(annotation)
    if origin is Annotated:
        return _type_words(inner[0])
    if origin is Literal:
        return " or ".join(inner)
    if origin in (Union, UnionType):
        return " or ".join(_type_words(one) for one in inner if one is not type(None))
    if origin is tuple:
        return f"list of {_type_words(inner[0])}" if Ellipsis in inner else ", ".join(map(_type_words, inner))
    return f"{_type_words(inner[0])}: {_type_words(inner[1])}"
