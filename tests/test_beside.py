"""Work done beside other work speaks the same language, and what fails in it fails where it is asked for."""

from threading import Event

import pytest

from planner.beside import beside
from planner.messages import spoken, tr


def test_it_goes_on_while_other_work_is_done() -> None:
    begun, may_end = Event(), Event()

    def work() -> str:
        begun.set()
        return "done" if may_end.wait(10) else "nobody went on meanwhile"

    result = beside(work)
    assert begun.wait(10)
    may_end.set()
    assert result.result() == "done"


def test_it_speaks_the_language_in_which_it_was_begun() -> None:
    with spoken({"wire": "Leitung"}):
        result = beside(lambda: tr("wire"))
    assert result.result() == "Leitung"


def test_what_fails_in_it_is_raised_where_it_is_asked_for() -> None:
    result = beside(lambda: int("no number"))
    with pytest.raises(ValueError, match="no number"):
        result.result()
