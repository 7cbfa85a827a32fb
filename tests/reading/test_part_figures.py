"""The figures that a part's lines tell hold all that reading it gives, or it is said that they do not."""

import pytest

import catalogs
from planner.reading.catalogue import scan_catalogue

SHIPPED = scan_catalogue([catalogs.directory()])
FUSE = "- part: x\n  title: X\n  family: thing\n  source: invented\n  terminals: {a: {}, b: {}}\n  inside:\n"
PLAIN = "    - fuse: {between: [a, b], amps: 8}\n"
TOLD = {
    "between others": PLAIN,
    "on a line of its own": "    - fuse:\n        between: [a, b]\n        amps: 8\n",
    "with a remark": "    - fuse:\n        between: [a, b]\n        amps: 8 # as seen\n",
    "with a fraction": "    - fuse: {amps: 7.5, between: [a, b]}\n",
    "in a remark beside": "    # amps: 3\n" + PLAIN,
}
UNTOLD = {
    "key in quotes": '    - fuse: {between: [a, b], "amps": 8}\n',
    "figure in quotes": '    - fuse: {between: [a, b], amps: "8"}\n',
    "key with an escape": '    - fuse: {between: [a, b], "\\x61mps": 8}\n',
    "figure on the next line": "    - fuse:\n        between: [a, b]\n        amps:\n          8\n",
    "a blank before the colon": "    - fuse: {between: [a, b], amps : 8}\n",
    "with an exponent": "    - fuse: {between: [a, b], amps: 8e0}\n",
    "the word in a text": f"{PLAIN}  note: it blew at 12 amps\n",
}


@pytest.mark.parametrize("name", list(SHIPPED.parts))
def test_a_shipped_part_gives_no_amps_that_its_lines_do_not_tell(name: str) -> None:
    given = {element.amps for element in SHIPPED.parts[name].inside if getattr(element, "amps", None)}
    told = SHIPPED.parts.figures(name, "amps")
    assert told is None or given <= {*told}


def test_most_shipped_parts_that_give_amps_tell_them_by_their_lines() -> None:
    given = [n for n, part in SHIPPED.parts.items() if any(getattr(e, "amps", None) for e in part.inside)]
    told = [n for n in given if SHIPPED.parts.figures(n, "amps")]
    assert len(told) > 0.9 * len(given) > 30


@pytest.mark.parametrize(("how", "is_told"), [*((h, True) for h in TOLD), *((h, False) for h in UNTOLD)])
def test_a_figure_is_told_where_it_is_written_plainly_and_nowhere_else(tmp_path, how, is_told):
    (tmp_path / "parts").mkdir()
    (tmp_path / "parts" / "more.yaml").write_text(FUSE + (TOLD | UNTOLD)[how], encoding="utf-8")
    parts = scan_catalogue([catalogs.directory(), tmp_path]).parts
    (fuse,) = parts["x"].inside
    told = parts.figures("x", "amps")
    assert (fuse.amps in told) if is_told else told is None
