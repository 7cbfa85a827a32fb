"""Data to models; what does not fit is said in plain words at its place in the file."""

from collections.abc import Iterable, Mapping
from difflib import get_close_matches
from types import UnionType
from typing import Annotated, Any, TypeVar, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from planner.model.elements import NAME_PATTERN, AnyElement
from planner.model.loom import ADDRESS_PATTERN, COLOUR_PATTERN, PLACE_PATTERN, TABLE_PATTERN
from planner.model.part import FITTING_PATTERN, Part
from planner.model.wording import COLOUR_WORDS
from planner.problems import Problem
from planner.reading.yaml_source import DataPath, Document

Model = TypeVar("Model", bound=BaseModel)
MOST_KEYS = 12  # named of a mapping that is met
MOST_FAULTS = 100  # of one part, loom or job: who has more has misread the form, and mends the first
KINDS: tuple[str, ...] = tuple(
    get_args(kind.model_fields["element"].annotation)[0] for kind in get_args(AnyElement)
)
WORDS = {
    FITTING_PATTERN: "a fitting: blade-2.8, blade-4.8, blade-6.3, blade-9.5, bullet, screw, stud-SIZE, "
    "ring-SIZE, bare, soldered or contact (SIZE 4, 5, 6, 8 or 10)",
    COLOUR_PATTERN: "a colour in IEC 60757 codes, base then tracer, such as GN/BK ("
    + ", ".join(f"{code} {word}" for code, word in COLOUR_WORDS.items())
    + ")",
    ADDRESS_PATTERN: "place:terminal, earth, earth:ZONE, feed:NAME, joint:NAME, loose or unknown",
    PLACE_PATTERN: "words of small letters, digits and dashes with dots between, such as dash.wiper-switch",
    TABLE_PATTERN: "the name of a file beside this one that ends in .csv, .tsv, .txt, .xlsx or .xlsm",
    NAME_PATTERN: "a name without colon or slash",
    r"^[^:\s][^:]*$": "a mark without colon",
    r"^feed:[^:\s]+$": "feed:NAME",
    r"^[a-z0-9][a-z0-9.-]{0,60}$": "small letters, digits, dashes and dots",
    r"^[a-z0-9][a-z0-9-]{0,40}$": "small letters, digits and dashes",
    r"^[A-Za-z0-9][A-Za-z0-9.+-]{0,40}$": "letters, digits, dots, dashes and plus signs",
    r"^(any|\d{4}-\d{4}|\d{4}-|-\d{4})$": "any, 1961-1966, 1961- or -1966",
}
_BOUNDS = {
    "greater_than": ("gt", "above"),
    "greater_than_equal": ("ge", "at least"),
    "less_than": ("lt", "below"),
    "less_than_equal": ("le", "at most"),
}
_SHAPES = {
    "string_type": "text",
    "tuple_type": "a list",
    "model_type": "a mapping",
    "model_attributes_type": "a mapping",
    "mapping_type": "a mapping",
    "dict_type": "a mapping",
    "float_type": "a number",
    "int_type": "a whole number",
    "bool_type": "true or false",
    "bool_parsing": "true or false",
    "float_parsing": "a number",
    "int_parsing": "a whole number",
    "int_parsing_size": "a whole number",
}


def build(model: type[Model], document: Document, path: DataPath = ()) -> tuple[Model | None, list[Problem]]:
    """Build a model from the data at ``path``; no model when there are problems."""
    data = document.at(path)
    problems, faulty = _misshapen_elements(document, path) if model is Part else ([], frozenset())
    try:
        built = model.model_validate(data)
    except ValidationError as error:
        details = error.errors(include_url=False)[:MOST_FAULTS]
        said = [d for d in details if d["loc"][:1] != ("inside",) or d["loc"][1:2] not in faulty]
        problems += [_problem(model, document, path, d) for d in said if not _is_echo(d, details)]
        if error.error_count() > MOST_FAULTS:
            message = f"{error.error_count():,} faults from here on; the first {MOST_FAULTS} are told"
            problems.append(Problem(document.value_place(path), message))
        return None, problems
    return (None if problems else built), problems


def suggest(name: str, known: Iterable[str]) -> str | None:
    """The hint for a name that is not known: the nearest known ones, or all when they are few."""
    names = sorted(known)
    near = get_close_matches(name, names, n=3, cutoff=0.6)
    if near:
        return " or ".join(near)
    if not names:
        return None
    return f"one of: {', '.join(names)}" if len(names) <= 16 else None


def met(value: Any) -> str:
    """How a value is named in a message."""
    if isinstance(value, dict):
        keys = ", ".join(list(value)[:MOST_KEYS]) + (", ..." if len(value) > MOST_KEYS else "")
        return f"a mapping with {keys}" if value else "an empty mapping"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    if value == "":
        return "nothing"
    return repr(value if len(value) <= 60 else value[:57] + "...")


def _is_echo(detail: ErrorDetails, details: list[ErrorDetails]) -> bool:
    """Whether a list is called too short only because some of its entries failed."""
    loc = detail["loc"]
    return detail["type"] == "too_short" and any(
        len(other["loc"]) > len(loc) and other["loc"][: len(loc)] == loc for other in details
    )


def _misshapen_elements(document: Document, path: DataPath) -> tuple[list[Problem], frozenset[tuple[int]]]:
    """Elements that are not ``{kind: {...}}``, which the model would describe in its own inner form."""
    data = document.at(path)
    inside = data.get("inside") if isinstance(data, dict) else None
    problems: list[Problem] = []
    faulty: set[tuple[int]] = set()
    for index, item in enumerate(inside if isinstance(inside, list) else ()):
        here = (*path, "inside", index)
        problem = None
        if not isinstance(item, dict) or len(item) != 1:
            problem = Problem(
                document.value_place(here),
                f"an element is a mapping with one key, its kind, got {met(item)}",
                hint=f"{_kind_in(item)}: {{...}}",
            )
        else:
            ((kind, body),) = item.items()
            if kind not in KINDS:
                place = document.key_place((*here, kind))
                problem = Problem(place, f"no element is called {kind!r}", hint=suggest(kind, KINDS))
            elif not isinstance(body, dict):
                problem = Problem(
                    document.value_place((*here, kind)), f"{kind} must be a mapping, got {met(body)}"
                )
            elif "element" in body:
                problem = Problem(
                    document.key_place((*here, kind, "element")),
                    f"unknown key 'element' in {kind}",
                    hint="leaving it out; the kind is the key before",
                )
        if problem:
            problems.append(problem)
            faulty.add((index,))
    return problems, frozenset(faulty)


def _kind_in(item: Any) -> str:
    words = item if isinstance(item, dict) else [item]
    return next((word for word in words if word in KINDS), "contact")


def _problem(model: type[BaseModel], document: Document, path: DataPath, detail: ErrorDetails) -> Problem:
    kind, inner = detail["type"], detail["loc"]
    loc = (*path, *inner)
    name = _name_of(loc)
    if kind == "extra_forbidden":
        keys = _fields_of(_type_at(model, inner[:-1]))
        return Problem(
            document.key_place(loc), f"unknown key {inner[-1]!r}", hint=suggest(str(inner[-1]), keys)
        )
    if kind == "missing" and isinstance(loc[-1], int):
        message = (
            f"{name} must have at least {loc[-1] + 1} entries, got {met(document.at(document.nearest(loc)))}"
        )
        return Problem(document.value_place(loc), message, hint=_description_at(model, inner[:-1]))
    if kind == "missing":
        hint = _description_at(model, inner)
        return Problem(document.value_place(loc[:-1]), f"{name} is missing", hint=hint and f"{name}: {hint}")
    if kind == "value_error":
        return _own_fault(document, loc, str(detail.get("ctx", {})["error"]))
    place = document.key_place(loc) if inner[-1:] == ("[key]",) else document.value_place(loc)
    message, hint = _words(name, kind, detail)
    return Problem(place, message, hint=hint or _description_at(model, inner))


def _name_of(loc: DataPath) -> str:
    """The last word of a path; for a key that is at fault, what it is a key of."""
    words = [part for part in loc if isinstance(part, str)]
    if loc[-1:] == ("[key]",):
        return f"a key of {words[-3]}" if len(words) > 2 else "a key"
    return words[-1] if words else "this"


def _own_fault(document: Document, loc: DataPath, message: str) -> Problem:
    """A model's own check: its sentence starts with the field at fault, where one is to blame."""
    field = message.split(" ", 1)[0]
    return Problem(document.value_place((*loc, field)), message)


def _words(name: str, kind: str, detail: ErrorDetails) -> tuple[str, str | None]:
    context: Mapping[str, Any] = detail.get("ctx", {})
    got = f"got {met(detail['input'])}"
    if kind in _BOUNDS:
        key, words = _BOUNDS[kind]
        return f"{name} must be {words} {context[key]:g}, {got}", None
    if kind in _SHAPES:
        return f"{name} must be {_SHAPES[kind]}, {got}", None
    if kind == "literal_error":
        accepted = [word.strip("'") for word in context["expected"].replace(" or ", ", ").split(", ")]
        return f"{name} must be {context['expected']}, {got}", suggest(str(detail["input"]), accepted)
    if kind == "string_pattern_mismatch":
        words = WORDS.get(context["pattern"], f"text that fits {context['pattern']}")
        return f"{name} must be {words}, {got}", None
    if kind == "string_too_short":
        return f"{name} must not be empty", None
    if kind == "string_too_long":
        return f"{name} must not be longer than {context['max_length']} characters, {got}", None
    if kind == "too_short":
        return f"{name} must have at least {context['min_length']} entries, {got}", None
    if kind == "too_long":
        return f"{name} must not have more than {context['max_length']} entries, {got}", None
    return f"{name}: {detail['msg']}, {got}", None


def _step_into(annotation: Any, part: str | int) -> Any:
    """The type one step further along a path of a validation error; ``None`` where it cannot be told."""
    while get_origin(annotation) is Annotated:
        annotation = get_args(annotation)[0]
    origin, arguments = get_origin(annotation), get_args(annotation)
    if origin in (Union, UnionType):
        members = [member for member in arguments if member is not type(None)]
        chosen = next((member for member in members if _kind_of(member) == part), None)
        return chosen or _step_into(members[0], part)
    if origin is tuple and isinstance(part, int):
        return arguments[0] if Ellipsis in arguments else arguments[min(part, len(arguments) - 1)]
    if isinstance(origin, type) and issubclass(origin, Mapping):
        return arguments[1]
    field = _fields_of(annotation).get(str(part))
    return field.annotation if field else None


def _kind_of(member: Any) -> str | None:
    """The key under which a file gives an element of this model."""
    element = getattr(member, "model_fields", {}).get("element")
    return get_args(element.annotation)[0] if element else None


def _fields_of(kind: Any) -> dict[str, Any]:
    """The fields of a model by the key a file gives them; none for what is no model."""
    if get_origin(kind) in (Union, UnionType):  # a model that may be left out
        kind = next(member for member in get_args(kind) if member is not type(None))
    fields = getattr(kind, "model_fields", {})
    return {field.alias or name: field for name, field in fields.items() if name != "element"}


def _type_at(model: type[BaseModel], loc: DataPath) -> Any:
    kind: Any = model
    for part in loc:
        kind = _step_into(kind, part)
    return kind


def _description_at(model: type[BaseModel], loc: DataPath) -> str | None:
    if not loc:
        return None
    field = _fields_of(_type_at(model, loc[:-1])).get(str(loc[-1]))
    return field.description if field else None
