"""What a person typed and nobody can read for sure: said with what would be accepted, never guessed."""

from unicodedata import normalize


class NotUnderstood(Exception):
    """A text that means nothing or several things; ``hint`` says what would be accepted."""

    def __init__(self, message: str, hint: str) -> None:
        self.message = message
        self.hint = hint
        super().__init__(message)


class Unfinished(NotUnderstood):
    """A text that is understood as far as it goes; ``missing`` says what to add behind it."""

    def __init__(self, message: str, hint: str, missing: str) -> None:
        self.missing = missing
        super().__init__(message, hint)


def plain(text: str) -> str:
    """A typed text in small letters and single blanks, with signs such as ² as plain ones."""
    return " ".join(normalize("NFKC", text).casefold().split())
