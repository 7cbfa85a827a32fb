"""Colour codes against IEC 60757, table 1; basis: national standard table identical to IEC 757:1983."""

import re

from planner.model.loom import COLOUR_PATTERN
from planner.model.wording import COLOUR_WORDS

EXAMPLE = "RDBU"  # the standard's way to join two codes; looms write a slash, base before tracer


def codes(table) -> dict[str, str]:
    return {row["code"]: row["name"] for row in table("colours") if row["code"] != EXAMPLE}


def test_codes_and_names_are_the_standards(table):
    plain = {code: re.sub(r" \(.*\)", "", name) for code, name in codes(table).items()}
    assert {code: words.replace("-", " ") for code, words in COLOUR_WORDS.items()} == plain


def test_wires_take_every_code_and_no_other(table):
    for code in codes(table):
        assert re.fullmatch(COLOUR_PATTERN, code), code
    two_letters = {a + b for a in map(chr, range(65, 91)) for b in map(chr, range(65, 91))}
    taken = {code for code in two_letters if re.fullmatch(COLOUR_PATTERN, code)}
    assert taken == {code for code in codes(table) if len(code) == 2}


def test_two_colours_are_any_two_codes_with_a_slash(table):
    single = [code for code in codes(table) if len(code) == 2]
    for base in single:
        for tracer in single:
            assert re.fullmatch(COLOUR_PATTERN, f"{base}/{tracer}")
            assert f"{base}{tracer}" == "GNYE" or not re.fullmatch(COLOUR_PATTERN, f"{base}{tracer}")


def test_green_and_yellow_together_stands_for_itself():
    """For protective conductors only: it is no base for a tracer."""
    assert not re.fullmatch(COLOUR_PATTERN, "GNYE/RD")
    assert not re.fullmatch(COLOUR_PATTERN, "RD/GNYE")
