"""Wherever a sheet or a plan prints the amps of an old fuse, it says that it blows at these."""

import re

import pytest

from planner.commands import main

OLD = r"\b(?:15|25|35|50) A\b"


@pytest.mark.parametrize(
    "job", ["horn-and-relay", "forestry-electronic-ignition", "hazard-switch-of-all-poles"]
)
def test_no_old_rating_stands_alone(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    said = []
    for verb in ("sheet", "plan"):
        main([verb, job])
        said.append(" ".join(re.sub(r"[│┃|]", " ", capsys.readouterr().out).split()))
    sheet, plan = said
    for rating in re.findall(rf"\(({OLD}[^):]*)\)", sheet):
        assert rating.endswith(" blowing"), rating
    assert re.search(rf"\({OLD} blowing\)", sheet)
    assert "carries about half of that for good" in " ".join(sheet.split())
    assert not re.search(rf"fuse marked {OLD}(?! ?blowing)", plan)


def test_a_sheet_without_such_fuses_does_not_explain_them(capsys: pytest.CaptureFixture[str]) -> None:
    main(["sheet", "fuse-box-with-like-fuses"])
    assert "blowing" not in capsys.readouterr().out.lower()
