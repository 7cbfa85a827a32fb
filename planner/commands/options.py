"""Options that several verbs take."""

import argparse


def add_watch(parser: argparse.ArgumentParser) -> None:
    """Add ``--watch``."""
    parser.add_argument(
        "--watch", action="store_true", help="do it again whenever a file that was read is saved; Ctrl-C ends"
    )
