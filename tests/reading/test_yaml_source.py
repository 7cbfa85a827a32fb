"""The reader: every scalar stays text, every fault has its line and column."""

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from marked import marked, places_of

from planner.problems import FilePlace, InputError
from planner.reading import yaml_source
from planner.reading.yaml_source import MAX_BYTES, MOST_SHOWN, parse_document, read_document, shown_name


def test_scalars_stay_as_they_were_written():
    document = parse_document("[off, on, yes, 030, 1_000, 12:30, 2026-01-01, '31', \"x\", .inf, 0x1F]", "f")
    assert document.data == [
        *("off", "on", "yes", "030", "1_000", "12:30", "2026-01-01", "31", "x", ".inf", "0x1F"),
    ]


def test_nothing_is_an_empty_text_and_a_quoted_null_is_a_word():
    document = parse_document("a:\nb: ~\nc: null\nd: '~'\ne: \"null\"\nf: ''\n", "f")
    assert document.data == {"a": "", "b": "", "c": "", "d": "~", "e": "null", "f": ""}


def test_a_merge_key_is_a_key_like_any_other():
    assert parse_document("<<: {a: b}\n", "f").data == {"<<": {"a": "b"}}


def test_keys_and_values_know_their_line_and_column():
    document = parse_document("a: 1\nlist:\n  - x\n  - {k: [v, w]}\n", "f")
    assert document.values == {
        (): (1, 1),
        ("a",): (1, 4),
        ("list",): (3, 3),
        ("list", 0): (3, 5),
        ("list", 1): (4, 5),
        ("list", 1, "k"): (4, 9),
        ("list", 1, "k", 0): (4, 10),
        ("list", 1, "k", 1): (4, 13),
    }
    assert document.keys == {("a",): (1, 1), ("list",): (2, 1), ("list", 1, "k"): (4, 6)}


def test_a_path_with_parts_that_are_not_in_the_file_leads_to_the_nearest_place():
    document = parse_document("wires:\n  - {colour: BK}\n", "f")
    assert document.nearest(("wires", 0, "colour", 0)) == ("wires", 0, "colour")
    assert document.nearest(("wires", "tagged", 0, "metres")) == ("wires", 0)
    assert document.nearest(("wires", 7)) == ("wires",)
    assert document.value_place(("wires", 0, "colour", 0)) == FilePlace("f", 2, 14)
    assert document.key_place(("wires", 0, "colour")) == FilePlace("f", 2, 6)
    assert document.key_place(("wires", 0)) == FilePlace("f", 2, 5)


def test_a_byte_order_mark_moves_no_column():
    assert parse_document("\ufeffa: b".encode(), "f").values[("a",)] == (1, 4)


@pytest.mark.parametrize("newline", ["\n", "\r\n", "\r"])
def test_every_kind_of_line_end_counts_once(newline):
    document = parse_document(newline.join(["a: 1", "b: 2", "c: 3"]), "f")
    assert document.values[("c",)] == (3, 4)


FAULTS = [
    ("a: 1\nb: 2\n¶a: 3\n", "key 'a' is given twice"),
    ("x:\n  - {a: 1, ¶a: {b: 1, ¶b: 2}}\n", "given twice"),
    ("a: ¶&x 1\n", "anchor &x is not allowed"),
    ("a: ¶&x [1]\n", "anchor &x is not allowed"),
    ("¶&x a: 1\n", "anchor &x is not allowed"),
    ("a: 1\nb: ¶*a\n", "alias *a is not allowed"),
    ("a: ¶!!int 1\n", "tag tag:yaml.org,2002:int is not allowed"),
    ("a: ¶!thing {b: c}\n", "tag !thing is not allowed"),
    ("a: ¶! b\n", "tag ! is not allowed"),
    ("¶!k a: b\n", "tag !k is not allowed"),
    ("a: 1\n¶---\nb: 2\n", "a second document starts here"),
    ("? ¶[a, b]\n: c\nd: e\n", "a key must be plain text"),
    ("? ¶{a: b}\n: ¶&x c\n", ""),
    ("a: b¶\x1bc\n", "the invisible character U+001B is not allowed"),
    ("a: b¶\x85c\n", "the invisible character U+0085 is not allowed"),
    ("a: b¶\u2028c\n", "the invisible character U+2028 is not allowed"),
    ("a: b\nc: ¶\u202ed\n", "the invisible character U+202E is not allowed"),
    ("a: ¶\ufeffb\n", "the invisible character U+FEFF is not allowed"),
    ("a: ¶\x00\n", "the invisible character U+0000 is not allowed"),
    ('a: ¶"x\\0y"\n', "the invisible character U+0000 is not allowed"),
    ('a: ¶"x\\ey"\n', "the invisible character U+001B is not allowed"),
    ("a: b¶: c\n", "a colon where no new key can stand"),
    ("a:\n¶\tb\n", "a character that no plain text can start with"),
    ("a: ¶@b\n", "a character that no plain text can start with"),
    ("a: 1\n b¶: 2\n", "a colon where no new key can stand"),
    ("a:\n    b: 1\n  ¶c: 2\n", "a line that is not indented as its neighbours are"),
    ("a: 1\nb\n¶c: 2\n", "a key without its colon"),
    ("a: [b, c\n¶", "did not find expected ',' or ']'"),
    ("a: 'b\n¶", "found unexpected end of stream"),
    ("[" * 32 + "¶[x" + "]" * 33, "nested deeper than 32 levels"),
    ("a: ¶&x 1\nb: c¶: d\n", ""),
]


@pytest.mark.parametrize(("text", "message"), FAULTS, ids=[repr(text[:24]) for text, _ in FAULTS])
def test_each_fault_is_found_at_its_line_and_column(text, message):
    clean, places = marked(text)
    with pytest.raises(InputError) as error:
        parse_document(clean, "f.yaml")
    assert places_of(error.value) == places
    assert all(message in problem.message for problem in error.value.problems)


def test_a_key_given_twice_shows_the_first():
    with pytest.raises(InputError) as error:
        parse_document("a: 1\nb: 2\na: 3\n", "f.yaml")
    assert str(error.value) == (
        "f.yaml:3:1: key 'a' is given twice\n"
        "    because f.yaml:1:1: first given here\n"
        "    try leaving one of them out"
    )


@pytest.mark.parametrize("text", ["", "# only a comment\n", "\n\n"])
def test_an_empty_file_is_said_to_be_empty(text):
    with pytest.raises(InputError, match=r"^f: the file is empty$"):
        parse_document(text, "f")


def test_thirty_two_levels_are_read():
    data = parse_document("[" * 32 + "x" + "]" * 32, "f").data
    for _ in range(32):
        (data,) = data
    assert data == "x"


def test_a_file_over_four_megabytes_is_refused_and_one_of_four_is_not():
    largest = b"a: " + b"x" * (MAX_BYTES - 3)
    assert len(parse_document(largest, "f").data["a"]) == MAX_BYTES - 3
    with pytest.raises(InputError, match=r"^f: the file is larger than 4 MB"):
        parse_document(largest + b"x", "f")


def test_bytes_that_are_no_utf8_are_found_after_letters_of_several_bytes():
    with pytest.raises(InputError) as error:
        parse_document("é: 1\nà: ü".encode() + b"\xff", "f")
    assert places_of(error.value) == [(2, 5)]
    assert "byte 0xff is not UTF-8 text" in str(error.value)


def test_utf16_is_refused():
    with pytest.raises(InputError, match=r"^f:1:1: byte 0xff is not UTF-8"):
        parse_document("a: b".encode("utf-16"), "f")


def test_a_lone_surrogate_is_refused():
    with pytest.raises(InputError, match="not UTF-8"):
        parse_document("a: \ud800", "f")


def test_a_file_of_nothing_but_control_characters_is_said_in_a_few_lines():
    with pytest.raises(InputError) as error:
        parse_document(b"\x00" * 1_000_000, "f")
    assert len(error.value.problems) == MOST_SHOWN


def test_a_file_that_cannot_be_opened_is_a_problem_of_that_file(tmp_path):
    with pytest.raises(InputError, match=r"missing\.yaml: cannot be read: No such file or directory"):
        read_document(tmp_path / "missing.yaml")
    with pytest.raises(InputError, match="cannot be read: Is a directory"):
        read_document(tmp_path)


def test_files_below_the_current_folder_are_named_from_there(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert shown_name(tmp_path / "a" / "b.yaml") == "a/b.yaml"
    assert shown_name(tmp_path.parent / "b.yaml") == str(tmp_path.parent / "b.yaml")


YAML_PIECES = st.lists(
    st.sampled_from(
        [
            *(
                "a",
                "b: ",
                "- ",
                "? ",
                ": ",
                "{",
                "}",
                "[",
                "]",
                ",",
                "\n",
                "\n  ",
                "\t",
                "'",
                '"',
                "#",
                "&x ",
            ),
            *(
                "*x",
                "!t ",
                "!!map ",
                "|\n",
                ">\n",
                "---\n",
                "...\n",
                "%YAML 1.2\n",
                "<<: ",
                "~",
                "\\x00",
                "\r",
            ),
            *("\ufeff", "\x85", "@", "`", "é", "\u2028", "0x", "=", "null"),
        ]
    ),
    max_size=40,
).map("".join)


def _only_texts(data):
    if isinstance(data, dict):
        return all(isinstance(key, str) and _only_texts(value) for key, value in data.items())
    return all(map(_only_texts, data)) if isinstance(data, list) else isinstance(data, str)


def _paths(data, path=()):
    yield path
    items = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in items:
        yield from _paths(value, (*path, key))


@settings(max_examples=300)
@given(st.one_of(YAML_PIECES, st.text(max_size=60), st.binary(max_size=60)))
@example("? {a: b}\n: [c]\n")
def test_whatever_is_read_gives_texts_with_places_or_an_input_error(content):
    try:
        document = parse_document(content, "f")
    except InputError as error:
        assert error.problems
        assert all(problem.place.file == "f" for problem in error.problems)
    else:
        assert _only_texts(document.data)
        assert set(_paths(document.data)) == set(document.values)
        assert set(document.keys) == {path for path in document.values if path and isinstance(path[-1], str)}
        text = content if isinstance(content, str) else content.decode()
        lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
        lines.append("")  # what is missing at the end may be placed on the line after it
        for line, column in document.values.values():
            assert 1 <= line <= len(lines)
            assert 1 <= column <= len(lines[line - 1]) + 1


TEXTS = st.text(st.characters(blacklist_categories=["Cc", "Cs", "Cf", "Zl", "Zp", "Cn"]), max_size=12)
DATA = st.recursive(
    TEXTS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXTS, inner, max_size=3)
)


def _written(data):
    if isinstance(data, dict):
        return "{" + ", ".join(f"{_written(k)}: {_written(v)}" for k, v in data.items()) + "}"
    if isinstance(data, list):
        return "[" + ", ".join(map(_written, data)) + "]"
    return "'" + data.replace("'", "''") + "'"


@settings(max_examples=100)
@given(DATA)
def test_what_was_written_is_read(data):
    assert parse_document(_written(data), "f").data == data


def test_a_file_of_too_many_values_is_refused_where_they_become_too_many(monkeypatch):
    monkeypatch.setattr(yaml_source, "MAX_VALUES", 5)
    assert parse_document("- 1\n- 2\n- 3\n- 4\n", "f").data == ["1", "2", "3", "4"]
    with pytest.raises(InputError, match="more than 5 values") as error:
        parse_document("- 1\n- 2\n- 3\n- 4\n- 5\n", "f")
    assert [(p.place.line, p.place.column) for p in error.value.problems] == [(5, 3)]
