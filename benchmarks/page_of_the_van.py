"""Measures the page of the whole van: its size, how long its states take, and how soon a throw is painted.

The states are computed from nothing. A throw is a click on a position of a switch in chromium, by lot; it
counts from the click until the script has written every state, and until the browser has laid the page out
anew. Run it with ``uv run python -m benchmarks.page_of_the_van``; the number behind it is how often a switch
is thrown.
"""

import random
import tempfile
import time
from pathlib import Path
from statistics import median

from playwright.sync_api import Page, sync_playwright

from benchmarks.arguments import rounds_of
from planner.live.page_states import page_states
from planner.pipeline import open_catalogue
from planner.reading.catalogue import read_job
from planner.sheet_pipeline import sheet_job
from planner.sheets.build.bench import bench_sheet
from planner.sheets.render.page.page import as_page

PROGRAM = "/usr/bin/chromium"
THROWS = 200
MOST_KB, MOST_MS = 1500, 50.0
_THROW = """([control, detent]) => {
  const input = document.querySelectorAll("#controls fieldset")[control].querySelectorAll("input")[detent];
  const began = performance.now();
  input.click();
  const written = performance.now() - began;
  document.body.getBoundingClientRect();
  return [written, performance.now() - began];
}"""


def main() -> None:
    """Measure and print."""
    throws = rounds_of("page_of_the_van", __doc__, THROWS)
    catalogue = open_catalogue()
    bench = sheet_job(None, catalogue, with_states=True, with_pictures=True)
    _, before = read_job("whole-van", catalogue)
    took = []
    for _ in range(3):
        began = time.process_time()
        states = page_states(before, before, catalogue)
        took.append(time.process_time() - began)
    page = as_page(bench_sheet(bench), bench.plan.job, bench.states)
    bare = as_page(bench_sheet(bench), bench.plan.job)
    print(f"states of the van on both sides: {median(took):.2f} s of CPU, {len(states.nodes)} nodes")
    size = len(page.encode()) / 1000
    is_met = "met" if size < MOST_KB else "MISSED"
    print(
        f"page: {size:.0f} kB, {size - len(bare.encode()) / 1000:.0f} of them states "
        f"(under {MOST_KB}; {is_met})"
    )
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "page.html"
        path.write_text(page, encoding="utf-8")
        with sync_playwright() as play:
            browser = play.chromium.launch(executable_path=PROGRAM, args=["--no-sandbox"])
            opened = browser.new_page(viewport={"width": 1200, "height": 900})
            opened.goto(path.as_uri())
            for summary in opened.locator("#live details > summary").all():
                summary.click()  # with every table in view, as much is painted as there ever is
            times = [_throw(opened, lots) for lots in [random.Random(1)] for _ in range(throws)]
            browser.close()
    written, laid_out = (sorted(each) for each in zip(*times, strict=True))
    worst, most = laid_out[-1], laid_out[len(laid_out) * 99 // 100]
    is_met = "met" if worst < MOST_MS else "MISSED"
    print(
        f"{throws} throws: written in {median(written):.1f} ms, laid out in {median(laid_out):.1f} ms, "
        f"99 of 100 in {most:.1f} ms, worst {worst:.1f} ms (under {MOST_MS:g}; {is_met})"
    )


def _throw(page: Page, lots: random.Random) -> list[float]:
    controls = page.locator("#controls fieldset")
    control = lots.randrange(controls.count())
    detent = lots.randrange(controls.nth(control).locator("input").count())
    times: list[float] = page.evaluate(_THROW, [control, detent])
    return times


if __name__ == "__main__":
    main()
