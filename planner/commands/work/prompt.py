"""One answer at the terminal: asked again until it is understood, and for what is missing of it."""

import sys
from collections.abc import Callable, Mapping
from typing import TypeVar

from planner.commands.work.failure import say_lines
from planner.reading.typed_values import NotUnderstood, Unfinished

Value = TypeVar("Value")


class Back(Exception):
    """The person wants the question before."""


class Plan(Exception):
    """The person leaves the rest unknown."""


_WORDS: Mapping[str, type[Exception]] = {"back": Back, "plan": Plan, "stop": EOFError, "quit": EOFError}


def ask(prompt: str, read: Callable[[str], Value], explain: Callable[[], None]) -> tuple[str, Value]:
    """What was typed and what it is read as.

    Raises
    ------
    Back, Plan
        If the person types one of these words.
    EOFError
        If the person stops, or nothing more is typed.
    """
    while True:
        typed = _line(prompt)
        word = typed.casefold()
        if word == "?":
            explain()
            continue
        if word in _WORDS:
            raise _WORDS[word]
        try:
            return _whole(typed, read)
        except NotUnderstood as error:
            hint = error.hint.partition(", or the code in the heading")[0]  # a prompt has none
            say(f"  {error.message}. Try {hint}.")


def _whole(typed: str, read: Callable[[str], Value]) -> tuple[str, Value]:
    """What was typed, with what was missing of it, and what that is read as; raises NotUnderstood."""
    try:
        return typed, read(typed)
    except Unfinished as error:
        say(f"  {error.message}.")
        more = _line(f"  {error.missing[:1].upper()}{error.missing[1:]}? (empty: type it all again)")
        if more.casefold() in _WORDS:
            raise _WORDS[more.casefold()] from None
        if not more:
            raise
        return _whole(f"{typed} {more}", read)


def say(text: str) -> None:
    """Say something to the person, apart from the results."""
    say_lines(text.split("\n"))


def _line(prompt: str) -> str:
    print(f"{prompt}: ", end="", file=sys.stderr, flush=True)
    return input().strip()
