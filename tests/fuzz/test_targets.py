"""What the fuzzing of readers leans on: each reads a shipped file, and refuses a few odd ones in words."""

from pathlib import Path

import pytest
from targets import READERS, read_as

# What fuzzing finds is added here.
ODD = (b"", b"\x00", b"\xff\xfe", b"PK\x03\x04", b"{", b"- ", b"a,b\n1,2\n")


@pytest.mark.parametrize("target", READERS)
@pytest.mark.parametrize("content", ODD)
def test_every_reader_reads_or_refuses_in_words(target: str, content: bytes, tmp_path: Path) -> None:
    read_as(target, content, tmp_path)


def test_a_reader_that_breaks_is_noticed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(READERS, "broken", (".txt", lambda path: path.read_text(encoding="ascii")))
    with pytest.raises(UnicodeDecodeError):
        read_as("broken", b"\xff", tmp_path)
