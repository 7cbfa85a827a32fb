"""JSON Schemas of part, loom and job files, generated from the models.

The models describe what is in memory; the files are shorter (an element under its kind, one value where a
list may stand, a position or an end as text) and every scalar in them is text. The generator below says
the same things about the form in the file.
"""

import json
from collections.abc import Callable
from typing import Any, Literal

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema
from typing_extensions import override

from planner.model.job import Job
from planner.model.loom import ADDRESS_PATTERN, Loom
from planner.model.part import Part
from planner.reading.feed_lines import EXAMPLES as FEED_LINES

Kind = Literal["part", "loom", "job"]
SCHEMA_FOLDER = "schemas"
_MODELS: dict[Kind, type[Part | Loom | Job]] = {"part": Part, "loom": Loom, "job": Job}
# A scalar that other readers take for a number, a truth or nothing is still text to the planner.
_TEXT = ["string", "number", "boolean"]
_NUMBER = r"^\s*[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?\s*$"
_WHOLE_NUMBER = r"^\s*[+-]?\d+(\.0*)?\s*$"
# Read before there is a model: it needs the loom's conditions.
_FEED_LINE = {"type": "string", "minLength": 1, "description": f"in one line: {FEED_LINES}"}
_TRUTHS = ["true", "false", "yes", "no", "on", "off"]


def schema_text(kind: Kind) -> str:
    """The JSON Schema of one kind of file as its own file holds it."""
    return json.dumps(schema(kind), indent=1) + "\n"


def schema_files(*kinds: Kind) -> dict[str, bytes]:
    """The schemas of some kinds of files, by their names beside the files that point at them."""
    return {f"{SCHEMA_FOLDER}/{kind}.json": schema_text(kind).encode() for kind in kinds}


def schema_line(kind: Kind, where: str = "") -> str:
    """The first line of a file, by which editors find its schema; ``where`` leads to the schemas' folder."""
    return f"# yaml-language-server: $schema={where}{SCHEMA_FOLDER}/{kind}.json\n"


def schema(kind: Kind) -> dict[str, Any]:
    """The JSON Schema of one kind of file; a parts file is a list of parts."""
    generator = _FileForm(by_alias=True, ref_template="#/$defs/{model}")
    inner = _as_in_file(generator.generate(_MODELS[kind].__pydantic_core_schema__))
    definitions = inner.pop("$defs", {})
    if kind == "loom":
        feeds = inner["properties"]["feeds"]["patternProperties"]
        feeds |= {name: {"anyOf": [_FEED_LINE, feed]} for name, feed in feeds.items()}
    if kind == "part":
        definitions["Part"] = inner
        inner = {"type": "array", "items": {"$ref": "#/$defs/Part"}, "description": "a list of parts"}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **inner,
        "title": f"{kind} file",
        "$defs": definitions,
    }


def _one_or_list(listed: JsonSchemaValue) -> JsonSchemaValue:
    return {"anyOf": [listed["items"], listed]}


def _text_or_mapping(mapping: JsonSchemaValue) -> JsonSchemaValue:
    return {"anyOf": [{"type": "string", "pattern": ADDRESS_PATTERN}, mapping]}


def _label_or_meaning(mapping: JsonSchemaValue) -> JsonSchemaValue:
    label = {"type": _TEXT, "minLength": 1, "maxLength": 60}
    pair = {
        "type": "object",
        "minProperties": 1,
        "maxProperties": 1,
        "propertyNames": {"minLength": 1, "maxLength": 60, "not": {"enum": ["label", "meaning"]}},
        "additionalProperties": label,
        "description": "label: meaning",
    }
    return {"anyOf": [label, pair, mapping]}


def _as_it_is(inner: JsonSchemaValue) -> JsonSchemaValue:
    return inner


# What each function of the models that runs before validation lets a file say; the tagged union of
# elements, which ``_unwrap`` prepares, is described where it is generated.
_FORMS: dict[str, Callable[[JsonSchemaValue], JsonSchemaValue]] = {
    "as_tuple": _one_or_list,
    "_listed": _one_or_list,
    "_from_address": _text_or_mapping,
    "_from_short_form": _label_or_meaning,
    "_unwrap": _as_it_is,
    "_held_by_a_screw": _as_it_is,
}


class _FileForm(GenerateJsonSchema):
    """Describes the form in the file instead of the one in memory."""

    @override
    def function_before_schema(self, schema: core_schema.BeforeValidatorFunctionSchema) -> JsonSchemaValue:
        return _FORMS[schema["function"]["function"].__name__](self.generate_inner(schema["schema"]))

    @override
    def tagged_union_schema(self, schema: core_schema.TaggedUnionSchema) -> JsonSchemaValue:
        choices = [
            {
                "type": "object",
                "properties": {str(kind): self.generate_inner(body)},
                "required": [str(kind)],
                "additionalProperties": False,
            }
            for kind, body in schema["choices"].items()
        ]
        return {"oneOf": choices}

    @override
    def float_schema(self, schema: core_schema.FloatSchema) -> JsonSchemaValue:
        return {"anyOf": [super().float_schema(schema), {"type": "string", "pattern": _NUMBER}]}

    @override
    def int_schema(self, schema: core_schema.IntSchema) -> JsonSchemaValue:
        return {"anyOf": [super().int_schema(schema), {"type": "string", "pattern": _WHOLE_NUMBER}]}

    @override
    def bool_schema(self, schema: core_schema.BoolSchema) -> JsonSchemaValue:
        return {"anyOf": [super().bool_schema(schema), {"enum": _TRUTHS}]}

    @override
    def str_schema(self, schema: core_schema.StringSchema) -> JsonSchemaValue:
        inner = super().str_schema(schema)
        bounded = {"pattern", "minLength"} & inner.keys()
        return {**inner, "type": _TEXT if bounded else [*_TEXT, "null"]}

    @override
    def field_title_should_be_set(self, schema: Any) -> bool:
        return False

    @override
    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        return self.generate_inner(schema["schema"])


def _as_in_file(value: Any) -> Any:
    """Drop what only exists in memory, and close every mapping to keys that are not described."""
    if isinstance(value, list):
        return [_as_in_file(item) for item in value]
    if not isinstance(value, dict):
        return value
    kept = {key: _as_in_file(v) for key, v in value.items() if not (key == "default" and v is None)}
    properties = kept.get("properties")
    if isinstance(properties, dict) and "const" in properties.get("element", {}):
        del properties["element"]
        kept["required"] = [name for name in kept["required"] if name != "element"]
    if "patternProperties" in kept:
        kept["additionalProperties"] = False
    if "anyOf" in kept and "additionalProperties" in kept:
        # A short form beside the mapping would itself be refused as a mapping with unknown keys.
        closed = kept.pop("additionalProperties")
        for choice in kept["anyOf"]:
            if "properties" in choice:
                choice["additionalProperties"] = closed
    return kept
