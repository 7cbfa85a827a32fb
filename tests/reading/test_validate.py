"""What does not fit a model is said in plain words at its line and column."""

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from marked import marked, places_of

from planner.model.catalogue import Publication
from planner.model.elements import Record
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.part import Part, Role
from planner.problems import InputError
from planner.reading.schema import schema
from planner.reading.validate import KINDS, MOST_FAULTS, WORDS, build, met, suggest
from planner.reading.yaml_source import parse_document

PART = """\
part: switch
title: A switch
family: switch
source: invented
terminals: {a: {}, b: {}}
"""
LOOM = "loom: small\nsupply: {volts: 12, earthed: negative}\n"
JOB = "job: do-it\nloom: small\n"
WIRE = "wires:\n  - {wire: W1, colour: BK, mm2: 1, metres: 1, ends: [loose, loose]"


def _inside(text):
    return PART + "inside:\n  - " + text + "\n"


CASES = [
    # keys
    (Part, PART + "¶colour: BK\n", "unknown key 'colour'", None),
    (Part, PART + "¶volt: 12\n", "unknown key 'volt'", "volts"),
    (Part, PART.replace("a: {}", "a: {¶rol: '30'}"), "unknown key 'rol'", "role"),
    (Part, _inside("lamp: {between: [a, b], does: x, watts: 5, ¶wats: 5}"), "unknown key 'wats'", "watts"),
    (Part, "¶" + PART.replace("title: A switch\n", ""), "title is missing", None),
    (
        Part,
        "¶" + PART.replace("source: invented\n", ""),
        "source is missing",
        "source: key into sources.yaml",
    ),
    (Part, _inside("lamp: ¶{between: [a, b], does: x}"), "watts is missing", None),
    (Loom, LOOM + "routes: [{¶form: a, from: a, to: b, metres: 1}]\n", "unknown key 'form'", "from"),
    (Loom, LOOM + "zones: {bay: {¶wett: true}}\n", "unknown key 'wett'", "wet"),
    (Job, JOB + "wants: [¶{is: full}]\n", "what is missing", None),
    (Job, JOB + "wants: [{what: x, ¶si: full}]\n", "unknown key 'si'", "is"),
    # kinds of element
    (Part, _inside("¶lmap: {watts: 5}"), "no element is called 'lmap'", "lamp"),
    (Part, _inside("¶lamp"), "an element is a mapping with one key, its kind, got 'lamp'", "lamp: {...}"),
    (Part, _inside("¶{lamp: {}, does: x}"), "its kind, got a mapping with lamp, does", "lamp: {...}"),
    (Part, _inside("¶{}"), "its kind, got an empty mapping", "contact: {...}"),
    (Part, _inside("lamp: ¶[a, b]"), "lamp must be a mapping, got a list of 2", None),
    (Part, _inside("lamp: {¶element: led}"), "unknown key 'element' in lamp", "leaving it out"),
    # numbers
    (Part, PART + "volts: ¶twelve\n", "volts must be a number, got 'twelve'", None),
    (Part, PART + "volts: ¶nan\n", "volts must be at most 60, got 'nan'", None),
    (Part, PART + "volts:¶\n", "volts must be a number, got nothing", None),
    (Part, PART + "volts: ¶0\n", "volts must be above 0, got '0'", None),
    (Part, PART + "volts: ¶61\n", "volts must be at most 60, got '61'", None),
    (Part, PART + "volts: ¶[12]\n", "volts must be a number, got a list of 1", None),
    (
        Part,
        PART.replace("a: {}", "a: {holds: ¶1.5}"),
        "holds must be a whole number, got '1.5'",
        "how many ends",
    ),
    (Part, PART.replace("a: {}", "a: {holds: ¶0}"), "holds must be at least 1, got '0'", "how many ends"),
    (Role, "rank: ¶101\nmeaning: x\nsource: x\nbasis: x\n", "rank must be at most 100, got '101'", None),
    (Loom, LOOM + WIRE.replace("mm2: 1", "mm2: ¶-1") + "}", "mm2 must be above 0, got '-1'", None),
    (Loom, LOOM + WIRE.replace("mm2: 1", "mm2: [1, ¶x]") + "}", "mm2 must be a number, got 'x'", None),
    (Job, JOB + "minutes: {cut: ¶-1}\n", "cut must be at least 0, got '-1'", None),
    (Part, PART.replace("a: {}", "a: {holds: ¶" + "9" * 5000 + "}"), "holds must be a whole number", None),
    (
        Part,
        _inside("sender: {between: [a, b], follows: x, ohms: {full: ¶0}}"),
        "full must be above 0, got '0'",
        None,
    ),
    (Loom, LOOM + "feeds: {'feed:x': {role: '30', ohms: ¶0}}\n", "ohms must be above 0, got '0'", None),
    (Loom, LOOM + "feeds: {'feed:x': {role: '30', ohms: ¶-1}}\n", "ohms must be above 0, got '-1'", None),
    # truths, words, lists
    (Job, JOB + "allow_cutting: ¶perhaps\n", "allow_cutting must be true or false, got 'perhaps'", None),
    (Loom, LOOM.replace("negative", "¶negtive"), "earthed must be 'negative' or 'positive'", "negative"),
    (Job, JOB + "wants: [{what: x, is: ¶flash}]\n", "is must be 'off', 'glows'", "flashes"),
    (Part, PART.replace("A switch", "¶''"), "title must not be empty", None),
    (Part, PART.replace("A switch", "¶[x]"), "title must be text, got a list of 1", None),
    (Part, PART.replace("A switch", "¶" + "x" * 101), "title must not be longer than 100 characters", None),
    (Part, PART.replace("{a: {}, b: {}}", "¶{}"), "terminals must have at least 1 entries", None),
    (Part, PART.replace("{a: {}, b: {}}", "¶a"), "terminals must be a mapping, got 'a'", None),
    (Part, PART.replace("a: {}", "a: ¶x"), "a must be a mapping, got 'x'", None),
    (Part, PART + "inside: ¶x\n", "inside must be a list, got 'x'", None),
    (Part, _inside("contact: {join: ¶a}"), "join must be a list, got 'a'", "terminals joined"),
    (Part, _inside("contact: {join: ¶[a]}"), "join must have at least 2 entries, got a list of 1", None),
    (Part, _inside("diode: {between: ¶[a]}"), "between must have at least 2 entries, got a list of 1", None),
    (Part, _inside("diode: {between: ¶[a, b, c]}"), "between must not have more than 2 entries", None),
    (
        Part,
        _inside("control: {name: x, positions: ¶[off]}"),
        "positions must have at least 2 entries",
        "label",
    ),
    (Part, _inside("control: {name: x, positions: [off, ¶{on: ''}]}"), "meaning must not be empty", "what"),
    (
        Part,
        PART.replace("a: {}", "a: {face: ¶[1]}"),
        "face must have at least 2 entries, got a list of 1",
        None,
    ),
    (Loom, LOOM + "wires: [¶x]\n", "wires must be a mapping, got 'x'", None),
    (Loom, "¶x\n", "this must be a mapping, got 'x'", None),
    # patterns
    (Part, PART.replace("part: switch", "part: ¶A/B"), "part must be small letters, digits", "unique id"),
    (Part, PART.replace("family: switch", "family: ¶A"), "family must be small letters, digits", None),
    (Part, PART + "years: ¶1961\n", "years must be any, 1961-1966, 1961- or -1966, got '1961'", None),
    (Part, PART.replace("a: {}", "a: {fitting: ¶blade-6}"), "fitting must be a fitting: blade-2.8", None),
    (Part, PART.replace("a: {}", "¶'a:': {}"), "a key of terminals must be a mark without colon", None),
    (Part, _inside("control: {name: ¶a/b, positions: [off, on]}"), "name must be a name without colon", None),
    (Loom, LOOM + WIRE.replace("BK", "¶GREEN") + "}", "colour must be a colour in IEC 60757 codes", None),
    (Loom, LOOM + WIRE.replace("BK", "¶RED") + "}", "(BK black, BN brown, RD red,", None),
    (Loom, LOOM + WIRE.replace("W1", "¶W 1") + "}", "wire must be letters, digits, dots", None),
    (Loom, LOOM + WIRE.replace("[loose", "[¶dash.lamp") + "}", "at must be place:terminal, earth", None),
    (
        Loom,
        LOOM + WIRE.replace("[loose", "[{at: ¶dash.lamp}") + "}",
        "at must be place:terminal",
        "place:term",
    ),
    (Loom, LOOM + "feeds: {¶x: {role: '30'}}\n", "a key of feeds must be feed:NAME, got 'x'", None),
    (Loom, LOOM + "places: {¶Dash: {part: x, zone: y}}\n", "a key of places must be words of small", None),
    (Job, JOB + "swaps: [{at: ¶Dash, fit: x}]\n", "at must be words of small letters", None),
    # what the models check themselves
    (
        Part,
        _inside("coil: {between: [a, b], ohms: 60, pulls_in_v: 3, drops_out_v: ¶5, name: armature}"),
        "drops_out_v must not exceed pulls_in_v (3), got 5",
        None,
    ),
    (
        Loom,
        LOOM + WIRE.replace("metres: 1", "metres: ¶[1, 2]") + "}",
        "metres must be one value or one for each of the 1 legs, got 2 values",
        None,
    ),
    (
        Part,
        "¶"
        + _inside(
            "cam: {name: x, states: [a, b], turned_by: c}\n  - step: {name: x, states: [a, b], stepped_by: c}"
        ),
        "two variables are called 'x'; names must differ within a part",
        None,
    ),
]


@pytest.mark.parametrize(("model", "text", "message", "hint"), CASES, ids=[case[2][:50] for case in CASES])
def test_each_fault_is_said_at_its_place(model, text, message, hint):
    clean, places = marked(text)
    built, problems = build(model, parse_document(clean, "f.yaml"))
    assert built is None
    assert places_of(InputError(problems)) == places
    assert message in problems[0].message
    if hint is not None:
        assert problems[0].hint is not None
        assert hint in problems[0].hint


# Everything that ends up as a resistance: the kind, its other fields, the field, and the most it may be.
RESISTANCES = [
    ("resistor", "", "ohms", 1e7),
    ("coil", "pulls_in_v: 7, drops_out_v: 3, name: x, ", "ohms", 1e6),
    ("gauge", "does: x, full_scale_amps: 1, ", "ohms", 1e6),
    ("source", "volts: 12, ", "ohms", 100),
    ("flasher", "kind: thermal, needs_amps: 1, name: x, ", "heater_ohms", 1000),
    ("lamp", "does: x, ", "watts", 500),
    ("winding", "does: x, ", "watts", 5000),
    ("led", "does: x, ", "watts", 200),
    ("fuse", "", "amps", 500),
]


@pytest.mark.parametrize(("kind", "others", "field", "most"), RESISTANCES, ids=[r[0] for r in RESISTANCES])
@pytest.mark.parametrize("said", ["0", "-0.001", "1e9", "inf", "nan", "-inf"])
def test_what_makes_no_resistance_is_refused_at_its_place(kind, others, field, most, said):
    text, places = marked(_inside(f"{kind}: {{between: [a, b], {others}{field}: ¶{said}}}"))
    built, problems = build(Part, parse_document(text, "f.yaml"))
    is_least = said in ("0", "-0.001", "-inf")
    assert built is None and places_of(InputError(problems)) == places
    expected = "must be above 0" if is_least else f"must be at most {most:g}"
    assert f"{field} {expected}, got '{said}'" in problems[0].message


@pytest.mark.parametrize(
    ("model", "text", "field"),
    [
        (Part, _inside("contact: {join: [a, b], ohms: ¶%s}"), "ohms"),
        (Loom, LOOM + "zones: {bay: {earth_ohms: ¶%s}}\n", "earth_ohms"),
        (Loom, LOOM + "places: {x: {part: x, zone: y, earth_ohms: ¶%s}}\n", "earth_ohms"),
    ],
)
@pytest.mark.parametrize("said", ["-0.001", "1001", "inf", "nan"])
def test_a_joint_may_be_exact_but_not_negative(model, text, field, said):
    good, _ = marked(text % "0")
    assert build(model, parse_document(good, "f.yaml"))[1] == []
    bad, places = marked(text % said)
    built, problems = build(model, parse_document(bad, "f.yaml"))
    assert built is None and places_of(InputError(problems)) == places
    assert problems[0].message.startswith(f"{field} must be at ")


def test_all_faults_of_a_part_are_said_at_once():
    text, places = marked(
        """
        part: switch
        title: ¶''
        family: switch
        source: invented
        terminals: {a: {holds: ¶x}}
        inside:
          - ¶lmap: {watts: 5}
          - winding: {between: [a, b], does: x, watts: ¶-1}
        """
    )
    _, problems = build(Part, parse_document(text, "f.yaml"))
    assert places_of(InputError(problems)) == places


def test_a_problem_reads_as_a_sentence_with_its_place():
    _, problems = build(
        Job, parse_document(JOB + "swaps:\n  - {at: bay.lamp, fit: lamp, zoen: bay}\n", "j.yaml")
    )
    assert str(InputError(problems)) == "j.yaml:4:31: unknown key 'zoen'\n    try zone"


def test_a_sound_entry_below_a_path_is_built():
    document = parse_document("ours: {title: Ours, basis: invented}\nbad: {title: x}\n", "f")
    built, problems = build(Publication, document, ("ours",))
    assert built == Publication(title="Ours", basis="invented")
    assert problems == []
    assert places_of(InputError(build(Publication, document, ("bad",))[1])) == [(2, 6)]


def test_a_few_names_are_listed_and_many_are_not():
    assert suggest("zzz", ["a", "b"]) == "one of: a, b"
    assert suggest("zzz", [f"n{i}" for i in range(40)]) is None
    assert suggest("zzz", []) is None
    assert suggest("bay.lmap", ["bay.lamp", "dash.switch"]) == "bay.lamp"


class Dated(Record):
    """A model with a type that no file of ours has."""

    day: date


def test_a_fault_without_words_of_its_own_is_said_at_its_place_all_the_same():
    _, problems = build(Dated, parse_document("day: never\n", "f"))
    assert places_of(InputError(problems)) == [(1, 6)]
    assert problems[0].message.startswith("day: ")
    assert problems[0].message.endswith(", got 'never'")


def test_a_long_value_is_cut_short():
    assert met("x" * 100) == repr("x" * 57 + "...")


def test_every_element_has_its_kind_offered():
    assert set(KINDS) == {
        *("control", "contact", "lamp", "winding", "resistor", "coil", "step", "cam", "flasher", "diode"),
        *("led", "fuse", "source", "sender", "stabiliser", "gauge"),
    }


def _patterns(value):
    if isinstance(value, dict):
        if isinstance(value.get("pattern"), str):
            yield value["pattern"]
        yield from value.get("patternProperties", {})
        for inner in value.values():
            yield from _patterns(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _patterns(inner)


def test_every_pattern_of_the_models_has_plain_words():
    found = {pattern for kind in ("part", "loom", "job") for pattern in _patterns(schema(kind))}
    numbers = {pattern for pattern in found if pattern.startswith(r"^\s*[+-]?")}
    assert len(numbers) == 2
    assert found - numbers == set(WORDS)


WORDS_IN_FILES = st.sampled_from(
    [
        *("part", "title", "family", "source", "terminals", "inside", "lamp", "contact", "control", "coil"),
        *(
            "between",
            "join",
            "when",
            "name",
            "positions",
            "watts",
            "ohms",
            "element",
            "label",
            "meaning",
            "a",
        ),
        *("loom", "supply", "wires", "ends", "at", "colour", "BK", "12", "-1", "", "nan", "[key]", "places"),
        *(
            "job",
            "swaps",
            "wants",
            "what",
            "is",
            "fit",
            "minutes",
            "stock",
            "fittings",
            "bay.lamp:30",
            "sender",
        ),
    ]
)
SHAPES = st.recursive(
    WORDS_IN_FILES,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(WORDS_IN_FILES, inner, max_size=5),
    max_leaves=25,
)


def _written(data):
    if isinstance(data, dict):
        return "{" + ", ".join(f"'{k}': {_written(v)}" for k, v in data.items()) + "}"
    if isinstance(data, list):
        return "[" + ", ".join(map(_written, data)) + "]"
    return f"'{data}'"


@settings(max_examples=300)
@given(st.sampled_from([Part, Loom, Job, Role]), SHAPES)
def test_data_of_any_shape_is_built_or_refused_with_places(model, data):
    document = parse_document(_written(data), "f")
    built, problems = build(model, document)
    assert (built is None) == bool(problems)
    for problem in problems:
        assert (problem.place.line, problem.place.column) >= (1, 1)
        assert problem.message


@settings(max_examples=200)
@given(st.sampled_from(["inside", "terminals", "nodes"]), SHAPES)
def test_a_part_with_one_strange_value_is_built_or_refused(key, data):
    lines = [line for line in PART.splitlines() if not line.startswith(key)]
    document = parse_document("\n".join([*lines, f"{key}: {_written(data)}"]), "f")
    built, problems = build(Part, document)
    assert (built is None) == bool(problems)


def test_of_very_many_faults_the_first_are_told_and_the_others_counted():
    wires = "".join("  - 1\n" for _ in range(MOST_FAULTS + 7))
    text = f"loom: a\nsupply: {{volts: 12, earthed: negative}}\nwires:\n{wires}"
    model, problems = build(Loom, parse_document(text, "f"))
    assert model is None and len(problems) == MOST_FAULTS + 1
    assert problems[-1].message == f"{MOST_FAULTS + 7} faults from here on; the first {MOST_FAULTS} are told"


def test_of_a_mapping_with_many_keys_the_first_are_named():
    assert met({f"k{n}": "" for n in range(14)}).endswith("k10, k11, ...")
    assert met({"a": "", "b": ""}) == "a mapping with a, b"
