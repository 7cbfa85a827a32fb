"""What of a text can be shown: what nobody sees, or what moves other text, becomes a space."""

import re

_INVISIBLE = re.compile("[\x00-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202f\u2060-\u206f\ufeff\ufff9-\ufffb]+")
_HALVES = re.compile("[\ud800-\udfff\ufffe\uffff]")  # no characters at all; UTF-8 has no bytes for halves


def shown(text: str) -> str:
    """A text in one line: control characters and marks of direction are spaces, the rest is as it is."""
    return _HALVES.sub("\N{REPLACEMENT CHARACTER}", _INVISIBLE.sub(" ", text))
