"""Words and options of ``loomwright parts``."""

import argparse

HELP = "find parts by what people call them, and show one"
DESCRIPTION = """\
Finds parts by words: what they are called (British or American), their family,
the marks and roles of their terminals. One match, or an exact id, is shown
whole. A kind of element (coil, lamp, contact, ...) shows what can be said of it
in a part file."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what only this verb takes."""
    parser.add_argument(
        "words", metavar="WORD", nargs="*", default=[], help="words, an id or a kind of element"
    )
