"""Words and options of ``loomwright rule``."""

import argparse

HELP = "list the rules, or show one rule's manual"
DESCRIPTION = """\
Lists the rules that propose how to settle what a swap opens, each with the
situation it answers. With a name, shows that rule's manual: what it looks for,
why it matters, before, after, limits, source."""
OUTCOMES = ("shown",)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what only this verb takes."""
    parser.add_argument("name", metavar="NAME", nargs="?", help="a rule's name")
