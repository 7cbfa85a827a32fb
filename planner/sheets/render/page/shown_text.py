"""Text from files, as a page may show it: what has no shape of its own is taken out, the rest is text."""

import re

# Control characters, marks that turn the direction of what follows, and halves of characters.
_SHAPELESS = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2028\u2029\u2066-\u2069\ud800-\udfff\ufffe\uffff]"
)


def shown_text(text: str) -> str:
    """A text in which nothing is hidden or turned; each character that would be is a blank."""
    return _SHAPELESS.sub(" ", text)
