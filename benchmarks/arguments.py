"""What is typed behind a benchmark's name: ``--help``, and for some the number of rounds."""

import argparse


def rounds_of(module: str, doc: str | None, usual: int | None = None) -> int:
    """Show help or refuse what is not understood; the rounds that are asked for, or the usual ones.

    Usual ones of 0 stand for all that there are. Without ``usual`` the benchmark takes no rounds, and 0 is
    given back. Ends the process with status 2 on bad arguments.
    """
    first, _, rest = (doc or "").partition("\n")
    parser = argparse.ArgumentParser(
        prog=f"python -m benchmarks.{module}",
        description=first,
        epilog=rest.strip(),
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    if usual is not None:
        parser.add_argument(
            "rounds",
            nargs="?",
            type=_count,
            default=usual,
            help=f"how often each is run; {usual} if left out"
            if usual
            else "so many of each; all if left out",
        )
    return int(getattr(parser.parse_args(), "rounds", 0))


def _count(text: str) -> int:
    number = int(text) if text.isdecimal() else 0
    if number < 1:
        raise argparse.ArgumentTypeError(f"must be a whole number above 0, got {text!r}")
    return number
