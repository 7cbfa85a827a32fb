"""Lays graphs out in layers with right angles: elkjs (``elk/``, unmodified) inside a JavaScript engine.

A graph is what ELK calls its JSON format: nodes with ports, edges between ports, labels with their sizes.
"""

import atexit
import json
from collections.abc import Sequence
from concurrent.futures import Future
from functools import cache
from importlib.resources import files
from typing import Any

from py_mini_racer import MiniRacer, init_mini_racer

from planner.beside import beside

# The library asks for a timer and a window; timers run at once, since nothing else is going on.
_SURROUNDINGS = """
globalThis.self = globalThis;
globalThis.setTimeout = function (f) { f(); return 0; };
globalThis.clearTimeout = function () {};
"""
# "$H" is a running number that the library writes into what it has seen; it differs from call to call.
_LAY_OUT = """
const library = new ELK();
globalThis.layOut = function (graphs) {
  const out = [];
  for (const graph of graphs) {
    library.layout(graph).then(
      (laid) => out.push(laid),
      (fault) => out.push({fault: String(fault && fault.message || fault)})
    );
  }
  globalThis.laidOut = out;
  return 0;
};
"""
_SAID = "JSON.stringify(laidOut, (key, value) => key === '$H' ? undefined : value)"
# The engine's optimising compiler takes longer than what it compiles is used for: without it a quarter of the
# time goes. The other flag is what mini-racer gives by itself.
_FLAGS = ("--single-threaded", "--no-opt")
_GRAIN = 100  # the library rounds some places to whole numbers: it is given hundredths of a millimetre


@cache
def start_engine() -> Future[MiniRacer]:
    """Begin to start the one engine of this process, which takes 0.2 s, most of it beside what else is done.

    It is started in a thread also because it would use an event loop that runs here, and die with it.
    """
    return beside(_started)


def _started() -> MiniRacer:
    init_mini_racer(flags=_FLAGS, ignore_duplicate_init=True)
    engine = MiniRacer()
    atexit.register(engine.close)  # left to the interpreter's end it may wait for ever
    engine.eval(_SURROUNDINGS)
    engine.eval(files("planner.pictures").joinpath("elk/elk.bundled.js").read_text("utf-8") + "\n;0")
    engine.eval(_LAY_OUT)
    return engine


def lay_out(graphs: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
    """The graphs with a place for each node, port, label and bend; every float is a length in mm."""
    if not graphs:
        return []
    engine = start_engine().result()
    engine.eval(f"layOut({json.dumps(_scaled(list(graphs), _GRAIN))})")
    laid: list[dict[str, Any]] = _scaled(json.loads(str(engine.eval(_SAID)), parse_int=float), 1 / _GRAIN)
    faults = [graph["fault"] for graph in laid if "fault" in graph]
    if faults or len(laid) != len(graphs):
        raise RuntimeError(f"the layout library failed: {faults or 'no answer'}")
    return laid


def _scaled(value: Any, scale: float) -> Any:
    """The same with every float so many times as large."""
    if isinstance(value, dict):
        return {key: _scaled(each, scale) for key, each in value.items()}
    if isinstance(value, list):
        return [_scaled(each, scale) for each in value]
    return round(value * scale, 4) if isinstance(value, float) else value
