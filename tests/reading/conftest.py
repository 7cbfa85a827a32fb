"""A small invented catalogue on disk, which each test may change in one place."""

from pathlib import Path

import pytest
from marked import marked
from small_catalogue import FILES


@pytest.fixture
def catalogue_at(tmp_path):
    """Write the catalogue, with texts of one file replaced; give its folder and the marked places."""

    def write(file: str = "roles.yaml", *changes: tuple[str, str]) -> tuple[Path, list[tuple[int, int]]]:
        places = []
        for name, content in FILES.items():
            text = content
            if name == file:
                for old, new in changes:
                    assert text.count(old) == 1, f"{old!r} must stand once in {name}"
                    text = text.replace(old, new)
                text, places = marked(text)
            path = tmp_path / "catalogue" / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        return tmp_path / "catalogue", places

    return write
