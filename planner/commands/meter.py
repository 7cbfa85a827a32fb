"""Words and options of ``loomwright meter``."""

import argparse

HELP = "take the readings of a job's meter page one by one, each judged at once"
DESCRIPTION = """\
Asks for the readings of a job's meter page, once the work is done: dead tests
with the battery off, then live ones. Each answer is judged at once against
what a good circuit reads, and kept: 11.8, 11,8 V, 0.3 ohm, 4k7, open, or with
a test lamp lit, dim, dark. Empty skips a test; back, stop and ? are understood.
When something is not good, it goes on in the same sitting as trace does, with
all that was read, until the mistake is found; what was not good is then read
again. --report says what the log comes to, with the next reading to take."""
OUTCOMES = ("every test was read, and every reading is good", "a reading is not good, or a test was not read")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what only this verb takes."""
    parser.add_argument(
        "job", metavar="JOB", nargs="?", help="a job file, or the name of a job in the catalogue"
    )
    parser.add_argument(
        "--log",
        metavar="FILE",
        help="where the readings are kept (JOB-meter.yaml or JOB-as-built.yaml); one that is there goes on",
    )
    parser.add_argument(
        "--as-built",
        action="store_true",
        help="take only the fewest readings that show any single wiring mistake among the changed ends",
    )
    parser.add_argument("--kit", metavar="KIT", help="the loose leads that the plan used, as for plan")
    parser.add_argument("--report", action="store_true", help="ask nothing: say what the log comes to so far")
