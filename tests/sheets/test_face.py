"""A part's face as a sketch, or a list where nobody has said where its terminals sit."""

from small_looms import make_part

from planner.sheets.build.face import WIDEST_FACE, face_sketch
from planner.sheets.sheet import Drawing, Paragraph


def face(terminals: dict[str, dict[str, object]]) -> tuple[object, ...]:
    return face_sketch(make_part("p", {"terminals": terminals}))


def test_terminals_stand_where_they_sit_and_empty_places_stay_empty() -> None:
    (sketch,) = face({"53": {"face": [1, 1]}, "53b": {"face": [2, 1]}, "31": {"face": [3, 3]}})
    assert isinstance(sketch, Drawing)
    assert sketch.lines == (
        "┌─────┬─────┬─────┐",
        "│  53 │ 53b │     │",
        "├─────┼─────┼─────┤",
        "│     │     │     │",
        "├─────┼─────┼─────┤",
        "│     │     │  31 │",
        "└─────┴─────┴─────┘",
        "seen from the wiring side",
    )


def test_a_long_mark_widens_every_box() -> None:
    (sketch,) = face({"points": {"face": [1, 1]}, "a": {"face": [2, 1]}})
    assert isinstance(sketch, Drawing) and sketch.lines[1] == "│ points │   a    │"


def test_without_a_face_the_marks_are_listed() -> None:
    (listed,) = face({"a": {}, "b": {}, "case": {"role": "31", "by": "mounting"}})
    assert isinstance(listed, Paragraph)
    assert listed.cells[0].text == "Terminals, in no order (where they sit is not known): a, b"


def test_terminals_without_a_place_are_listed_beside_the_sketch() -> None:
    sketch, beside = face({"a": {"face": [1, 1]}, "tail": {}})
    assert isinstance(sketch, Drawing) and isinstance(beside, Paragraph)
    assert beside.cells[0].text == "Beside them: tail"


def test_a_face_wider_than_a_sheet_is_listed() -> None:
    (listed,) = face({f"t{n}": {"face": [n, 1]} for n in range(1, WIDEST_FACE)})
    assert isinstance(listed, Paragraph)
