"""What people read, by its English text: ``messages.json`` beside this file lists it all for translators.

A text is the key and the English wording at once. The list is made of the calls of the functions below by
``tests/test_messages.py``; a translation is a copy of it with another language on its right-hand sides. Names
in braces are filled in and have to stay. What is not in a translation stays English.
"""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from pathlib import Path

MESSAGES = Path(__file__).with_name("messages.json")
_WORDS: ContextVar[Mapping[str, str]] = ContextVar("words", default={})  # noqa: B039  never changed


def tr(text: str, /, **values: object) -> str:
    """A text in the language that is spoken, with its values filled in."""
    said = _WORDS.get().get(text, text)
    return said.format(**values) if values else said


def tr_count(one: str, many: str, /, count: int, **values: object) -> str:
    """A text about one thing, or about ``count`` of them: two forms, for languages with more as well."""
    return tr(one if count == 1 else many, count=count, **values)


def later(text: str) -> str:
    """A text of a table, which ``tr`` is given when it is shown."""
    return text


@contextmanager
def spoken(words: Mapping[str, str]) -> Iterator[None]:
    """Speak another language for a while; ``words`` gives its text for each English one."""
    token = _WORDS.set(words)
    try:
        yield
    finally:
        _WORDS.reset(token)
