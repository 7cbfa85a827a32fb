"""What the sheet for the bench says before the first step."""

import pytest

from planner.commands import main


@pytest.mark.parametrize(
    ("job", "is_lost"), [("interior-lamp-without-earth", True), ("two-speed-wipers", False)]
)
def test_a_sheet_says_what_no_longer_works(
    job: str, is_lost: bool, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["sheet", job])
    said = capsys.readouterr().out
    assert ("lost: interior light (interior lamp, roof lining)" in said) == is_lost
    assert ("no longer works" in said) == is_lost
