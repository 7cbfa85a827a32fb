"""The command line: one verb a file, each with its work in ``planner.commands.work`` under the same name.

The verbs' own files hold only words and options, so that help costs nothing; the work imports the planner.
What a failure says is work too: knowing the planner's exceptions means importing them.
"""

import argparse
import gc
import os
import sys
from collections.abc import Callable, Sequence
from importlib import import_module

from planner import __version__
from planner.commands import check, compare, identify, meter, parts, plan, rule, sheet, start, survey, trace

VERBS = (start, plan, sheet, survey, compare, identify, meter, trace, check, parts, rule)
WORK = "planner.commands.work"
FAILURE = "planner.commands.work.failure"
FINE, NOT_USABLE, OUR_BUG, INTERRUPTED, NOBODY_READS = 0, 2, 3, 130, 141
_HELP_WIDTH = 78
_ANY_OUTCOME = ("nothing is lost, wrong or open", "something is; 'loomwright VERB --help' says what")


def run() -> None:
    """The console command.

    One verb leaves next to no rings of objects behind, so nothing looks for them: that alone would take a
    seventh of a plan's time. Nor is what was worked out taken apart at the end, object by object.
    """
    gc.disable()
    # Networks here have a few hundred nodes: a second core costs them more than it brings.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    sys.exit(main(sys.argv[1:], _leave))


def main(argv: Sequence[str], leave: Callable[[int], None] | None = None) -> int:
    """Run one verb and return its exit status; results go to standard output, all else to standard error.

    If all went well ``leave`` ends it, while all that the verb keeps with its arguments is still there.
    """
    if sys.stdout is None:  # so it is when the caller closed it
        print("loomwright: there is no standard output to write to", file=sys.stderr)
        return NOT_USABLE
    try:
        args = _parser().parse_args(argv)
        status: int = import_module(f"{WORK}.{args.verb}").run(args)
        sys.stdout.flush()
        if leave:
            leave(status)
    except SystemExit as stop:  # argparse has said what there is to say
        return stop.code if isinstance(stop.code, int) else FINE
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        _leave_standard_output()
        return NOBODY_READS
    except OSError as error:  # files are read elsewhere, so this is a result that cannot be written
        _leave_standard_output()
        print(f"loomwright: {error}", file=sys.stderr)
        return NOT_USABLE
    except Exception as error:
        is_ours: bool = import_module(FAILURE).say(error)
        return OUR_BUG if is_ours else NOT_USABLE
    return status


class _Help(argparse.RawDescriptionHelpFormatter):
    """Help of a fixed width: asking the terminal for its own takes longer than all the rest."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=_HELP_WIDTH)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="loomwright",
        description="Plans the swap of parts in a vehicle's low-voltage wiring\n"
        "and proves the result in every switch position.",
        epilog=_statuses(_ANY_OUTCOME),
        formatter_class=_Help,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"%(prog)s {__version__}")
    verbs = parser.add_subparsers(dest="verb", metavar="VERB", required=True, title="what to do")
    for module in VERBS:
        name = module.__name__.rpartition(".")[2]
        verb = verbs.add_parser(
            name,
            help=module.HELP,
            description=module.DESCRIPTION,
            epilog=_statuses(module.OUTCOMES),
            formatter_class=_Help,
            allow_abbrev=False,
        )
        module.add_arguments(verb)
        verb.add_argument(
            "--catalog",
            metavar="DIR",
            action="append",
            default=[],
            help="a folder of your own parts, looms and jobs; may be given several times",
        )
        verb.add_argument("--json", action="store_true", help="print one JSON document and nothing else")
    return parser


def _statuses(outcomes: Sequence[str]) -> str:
    """What the exit statuses say: those from 0 on are the verb's own."""
    faults = {
        NOT_USABLE: "input that cannot be used",
        OUR_BUG: "a fault of this program",
        INTERRUPTED: "stopped before there was a result",
    }
    meanings = {**dict(enumerate(outcomes)), **faults}
    return "exit status:\n" + "\n".join(f"  {status:<4} {words}" for status, words in meanings.items())


def _leave(status: int) -> None:
    """End the process as it stands; standard output has been flushed."""
    if sys.stderr:
        sys.stderr.flush()
    os._exit(status)


def _leave_standard_output() -> None:
    """Keep Python from writing what is left to something that does not take it."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
