"""Each shipped file points an editor at its schema in its first line; the schemas are those printed."""

import json
import os
from pathlib import Path
from typing import get_args

import pytest

import catalogs
from planner.commands import FINE, main
from planner.reading.schema import SCHEMA_FOLDER, Kind, schema_files, schema_line

SHIPPED = catalogs.directory()


@pytest.mark.parametrize("kind", get_args(Kind))
def test_the_shipped_schema_is_the_one_that_check_prints(
    kind: Kind, capsys: pytest.CaptureFixture[str]
) -> None:
    ((name, content),) = schema_files(kind).items()
    if os.environ.get("LOOMWRIGHT_REFRESH"):
        (SHIPPED / SCHEMA_FOLDER).mkdir(exist_ok=True)
        (SHIPPED / name).write_bytes(content)
    assert (SHIPPED / name).read_bytes() == content
    assert main(["check", "--schema", kind]) == FINE
    assert json.loads(capsys.readouterr().out) == json.loads(content)


@pytest.mark.parametrize("kind", get_args(Kind))
def test_every_shipped_file_begins_with_the_line_by_which_editors_find_its_schema(kind: Kind) -> None:
    files = sorted((SHIPPED / f"{kind}s").glob("*.yaml"))
    line = schema_line(kind, "../")
    assert files and [f.name for f in files if not f.read_text(encoding="utf-8").startswith(line)] == []


def test_the_line_leads_from_a_file_to_its_schema() -> None:
    for kind in get_args(Kind):
        where = schema_line(kind, "../").strip().partition("$schema=")[2]
        assert (SHIPPED / f"{kind}s" / where).resolve() == (
            SHIPPED / SCHEMA_FOLDER / f"{kind}.json"
        ).resolve()
        assert schema_line(kind) == f"# yaml-language-server: $schema=schemas/{kind}.json\n"


def test_the_templates_of_a_folder_to_start_from_begin_with_their_line() -> None:
    for path in Path(SHIPPED / "start").rglob("*.yaml"):
        kind: Kind = "job" if path.stem == "job" else "loom"
        assert path.read_text(encoding="utf-8").startswith(schema_line(kind))
