"""Changes files at random, led by the branches that they reach, until a reader breaks over one.

A reader breaks if it raises anything but what it may say to a person. Not part of the test run, since atheris
does not install everywhere; what it finds becomes a case of ``test_targets.py``::

    uv run --with "atheris>=2.3,<4" python tests/fuzz/fuzz_readers.py wires-csv -max_total_time=60
"""

import sys
import tempfile
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["planner"]):
    from targets import READERS, read_as

SEEDS = Path(__file__).parents[2] / "catalogs"


def main() -> None:
    """Fuzz the reader that is named first; libFuzzer's own options follow."""
    target = sys.argv[1] if len(sys.argv) > 1 else ""
    if target not in READERS:
        sys.exit(f"usage: fuzz_readers.py {{{','.join(READERS)}}} [-max_total_time=60]")
    folder = Path(tempfile.mkdtemp())
    seeds = folder / "seeds"
    seeds.mkdir()
    for number, path in enumerate(sorted(SEEDS.rglob(f"*{READERS[target][0]}"))):
        (seeds / str(number)).write_bytes(path.read_bytes()[:4000])
    atheris.Setup(
        [sys.argv[0], str(seeds), "-max_len=4096", *sys.argv[2:]],
        lambda content: read_as(target, content, folder),
    )
    atheris.Fuzz()


if __name__ == "__main__":
    main()
