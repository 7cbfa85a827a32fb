"""Words and options of ``loomwright parts``."""

import argparse

HELP = "find parts by what people call them, and show one"
DESCRIPTION = """\
Finds parts by words: what they are called (British or American), their family,
the marks and roles of their terminals; the options narrow them down. One match,
or an exact id, is shown whole, with a contact table: what is joined in which
position. A kind of element (coil, lamp, contact, ...) shows what can be said of
it in a part file."""
OUTCOMES = ("shown",)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what only this verb takes."""
    parser.add_argument(
        "words", metavar="WORD", nargs="*", default=[], help="words, an id or a kind of element"
    )
    parser.add_argument("--family", metavar="FAMILY", default="", help="only parts of this family")
    parser.add_argument(
        "--years",
        metavar="YEARS",
        help="only parts made in some of these years, such as 1965, 1961-1966, 1961- or -1966",
    )
    parser.add_argument(
        "--role",
        metavar="ROLE",
        default="",
        help="only parts with a terminal of this role, such as 53a",
    )
    parser.add_argument("--volts", metavar="V", type=float, help="only parts rated for so many volts")
