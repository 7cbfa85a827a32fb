"""The schemas describe the files: what the planner reads they accept, what it refuses they mostly refuse."""

import json
from typing import get_args

import jsonschema
import pytest
import yaml

from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.part import Part
from planner.reading.catalogue import installed_directories
from planner.reading.schema import Kind, schema
from planner.reading.validate import build
from planner.reading.yaml_source import parse_document, read_document

VALIDATORS = {kind: jsonschema.Draft202012Validator(schema(kind)) for kind in get_args(Kind)}
FILES = [
    pytest.param(kind, path, id=f"{kind}s/{path.name}")
    for directory in installed_directories()
    for kind in get_args(Kind)
    for path in sorted((directory / f"{kind}s").glob("*.yaml"))
]


@pytest.mark.parametrize("kind", get_args(Kind))
def test_each_schema_is_one(kind):
    jsonschema.Draft202012Validator.check_schema(schema(kind))
    assert json.loads(json.dumps(schema(kind))) == schema(kind)


def test_the_shipped_catalogue_has_files_of_every_kind():
    assert {param.values[0] for param in FILES} == set(get_args(Kind))


@pytest.mark.parametrize(("kind", "path"), FILES)
def test_every_catalogue_file_fits_its_schema(kind, path):
    VALIDATORS[kind].validate(read_document(path).data)


@pytest.mark.parametrize(("kind", "path"), FILES)
def test_every_catalogue_file_fits_its_schema_as_an_editor_reads_it(kind, path):
    # An editor types scalars its own way: `off` is false there, and a bare 31 a number; keys stay text.
    VALIDATORS[kind].validate(json.loads(json.dumps(yaml.safe_load(path.read_text(encoding="utf-8")))))


@pytest.mark.parametrize(
    ("kind", "name"),
    [("part", "parts/lamps.yaml"), ("part", "parts/switches.yaml"), ("loom", "looms/small.yaml")],
)
def test_the_files_of_these_tests_fit_too(catalogue_at, kind, name):
    VALIDATORS[kind].validate(read_document(catalogue_at()[0] / name).data)


PART = "[{part: x, title: x, family: x, source: x, terminals: {a: {}, b: {}}%s}]"
LOOM = "{loom: x, supply: {volts: 12, earthed: negative}%s}"
JOB = "{job: x, loom: x%s}"
WIRE = ", wires: [{wire: W1, colour: BK, mm2: 1, metres: 1, ends: [loose, loose]}]"
ACCEPTED = [
    ("part", PART % ""),
    ("part", PART % ", inside: [{lamp: {between: [a, b], does: x, watts: '5.5'}}]"),
    ("part", PART % ", inside: [{control: {name: x, positions: [off, {on: slow}, {label: a, meaning: b}]}}]"),
    ("part", PART % ", inside: [{contact: {join: [a, b], when: {x: on}, overlaps: true}}]"),
    ("part", PART % ", inside: [{contact: {join: [a, b], when: {x: [on, off]}}}]"),
    ("part", PART % ", inside: [{cam: {name: x, states: [a, b], turned_by: x}}]"),
    ("part", PART % ", note: ~"),
    ("loom", LOOM % WIRE),
    ("loom", LOOM % WIRE.replace("BK", "[BK/RD]").replace("mm2: 1", "mm2: [1]")),
    ("loom", LOOM % WIRE.replace("[loose", "[{at: 'a.b:c', fitting: bullet, covered: false}")),
    ("loom", LOOM % ", conditions: {door: [shut, {open: ajar}]}"),
    ("job", JOB % ", wants: [{what: x, at: a, is: full, when: {x: on}}, {what: x, at: [a, b]}]"),
    ("job", JOB % ", swaps: [{at: a.b, fit: nothing}], minutes: {cut: 3}, allow_cutting: true"),
]
REFUSED = [
    ("part", "{part: x}"),
    ("part", PART % ", colour: BK"),
    ("part", PART % ", volts: twelve"),
    ("part", PART.replace("part: x", "part: X") % ""),
    ("part", PART.replace("title: x, ", "") % ""),
    ("part", PART.replace("a: {}", "'a:': {}") % ""),
    ("part", PART % ", inside: [{lmap: {}}]"),
    ("part", PART % ", inside: [lamp]"),
    ("part", PART % ", inside: [{element: lamp, between: [a, b], does: x, watts: 5}]"),
    ("part", PART % ", inside: [{lamp: {element: lamp, between: [a, b], does: x, watts: 5}}]"),
    ("part", PART % ", inside: [{lamp: {between: [a, b], does: x}}]"),
    ("part", PART % ", inside: [{diode: {between: [a]}}]"),
    ("part", PART % ", inside: [{control: {name: x, positions: [off]}}]"),
    ("part", PART % ", inside: [{control: {name: x, positions: [off, {a: b, c: d}]}}]"),
    ("loom", LOOM.replace("negative", "both") % ""),
    ("loom", LOOM % ", feeds: {x: {role: x}}"),
    ("loom", LOOM % ", places: {A: {part: x, zone: x}}"),
    ("loom", LOOM % WIRE.replace("[loose", "[dash.lamp")),
    ("loom", LOOM % WIRE.replace("[loose", "[{at: loose, fiting: bullet}")),
    ("loom", LOOM % WIRE.replace("BK", "GREEN")),
    ("loom", LOOM % WIRE.replace("loose, loose", "loose")),
    ("job", JOB % ", wants: [{is: full}]"),
    ("job", JOB % ", allow_cutting: perhaps"),
]
MODELS = {"loom": Loom, "job": Job}


def _is_read(kind, text):
    document = parse_document(text, "f")
    if kind != "part":
        return build(MODELS[kind], document)[0] is not None
    return isinstance(document.data, list) and build(Part, document, (0,))[0] is not None


@pytest.mark.parametrize(("kind", "text"), ACCEPTED)
def test_what_is_read_fits_the_schema(kind, text):
    assert _is_read(kind, text)
    VALIDATORS[kind].validate(parse_document(text, "f").data)
    VALIDATORS[kind].validate(yaml.safe_load(text))


@pytest.mark.parametrize(("kind", "text"), REFUSED)
def test_what_is_refused_does_not_fit_the_schema(kind, text):
    assert not _is_read(kind, text)
    assert not VALIDATORS[kind].is_valid(parse_document(text, "f").data)


def test_bounds_hold_for_numbers_as_an_editor_reads_them():
    for volts, fits in ((12, True), (0, False), (61, False)):
        assert VALIDATORS["part"].is_valid(yaml.safe_load(PART % f", volts: {volts}")) is fits


def test_a_feed_may_be_said_in_one_line_or_in_full():
    feeds = LOOM % ', feeds: {"feed:a": "always live, fuse 8 A", "feed:b": {role: "30"}}'
    VALIDATORS["loom"].validate(parse_document(feeds, "loom.yaml").data)
    with pytest.raises(jsonschema.ValidationError):
        VALIDATORS["loom"].validate(parse_document(LOOM % ', feeds: {"feed:a": {}}', "loom.yaml").data)
