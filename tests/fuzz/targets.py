"""What reads a file that a person made, each as one call that reads it or says what is wrong with it."""

from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

from planner.model.catalogue import Catalogue
from planner.pipeline import open_catalogue
from planner.problems import InputError, TooLargeError, UsageError
from planner.reading.bench_readings import read_readings
from planner.reading.catalogue import read_job, read_loom, read_parts
from planner.reading.kit_leads import read_kit
from planner.reading.loom_file import open_wire_list
from planner.reading.ticks import read_ticks

Reader = Callable[[Path], object]
# What a reader may raise: each tells the person what is wrong.
SAID = (InputError, UsageError, TooLargeError)


@lru_cache
def shipped() -> Catalogue:
    """The catalogue that files are read against."""
    return open_catalogue()


READERS: dict[str, tuple[str, Reader]] = {
    "parts": (".yaml", lambda path: read_parts(path, shipped())),
    "loom": (".yaml", lambda path: read_loom(path, shipped())),
    "job": (".yaml", lambda path: read_job(path, shipped())),
    "wires-csv": (".csv", lambda path: open_wire_list(path, None, shipped())),
    "wires-xlsx": (".xlsx", lambda path: open_wire_list(path, None, shipped())),
    "kit-csv": (".csv", lambda path: read_kit(path, lambda: shipped().standards.gauges)),
    "readings-csv": (".csv", read_readings),
    "ticks": (".txt", read_ticks),
}


def read_as(target: str, content: bytes, folder: Path) -> None:
    """Read some bytes as one kind of file; only what nobody would be told of gets out."""
    ending, reader = READERS[target]
    path = folder / f"any{ending}"
    path.write_bytes(content)
    try:
        reader(path)
    except SAID as said:
        assert str(said)
