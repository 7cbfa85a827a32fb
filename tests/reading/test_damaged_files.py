"""Whatever is done to a file, reading gives models or an input error with places, never anything else."""

from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given, settings
from hypothesis import strategies as st
from small_catalogue import FILES

from planner.problems import InputError
from planner.reading.catalogue import read_catalogue, read_job
from planner.reading.checking import check_catalogue

PIECES = st.sampled_from(
    [
        *(
            "",
            " ",
            "\n",
            "\n  ",
            ": ",
            "- ",
            ", ",
            "{",
            "}",
            "[",
            "]",
            "'",
            "&a ",
            "*a",
            "!t ",
            "\t",
            "~",
            "#",
        ),
        *(
            "off",
            "on",
            "lamp",
            "bay.lamp",
            "dash.switch:a",
            "feed:x",
            "unknown",
            "earth:bay",
            "[a, b]",
            "{a: b}",
        ),
        *(
            "-1",
            "0",
            "1e9",
            "nan",
            "nothing",
            "knob",
            "door",
            "inner",
            "armature",
            "control",
            "element",
            "\x00",
        ),
    ]
)


def _read_all(folder):
    catalogue = read_catalogue([folder])
    check_catalogue([folder])
    return read_job("01-do-it", catalogue)


@settings(max_examples=300)
@given(st.data())
def test_a_damaged_file_is_read_or_refused(data):
    file = data.draw(st.sampled_from(sorted(FILES)))
    text = FILES[file]
    start = data.draw(st.integers(0, len(text)))
    cut = data.draw(st.integers(0, 12))
    with TemporaryDirectory() as name:
        folder = Path(name)
        for other, content in FILES.items():
            path = folder / other
            path.parent.mkdir(parents=True, exist_ok=True)
            damaged = text[:start] + data.draw(PIECES) + text[start + cut :] if other == file else content
            path.write_text(damaged, encoding="utf-8")
        try:
            job, loom = _read_all(folder)
        except InputError as error:
            assert error.problems
            for problem in error.problems:
                assert problem.message
                assert problem.place.file.startswith(name) or problem.place.file == "01-do-it"
        else:
            assert set(loom.wire_index) == {wire.wire for wire in loom.wires}
            assert job.loom == loom.loom
