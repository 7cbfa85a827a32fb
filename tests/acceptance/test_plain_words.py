"""No inner name is printed to the reader: places, joiners and feeds are called by words, rules by none."""

import re
from dataclasses import replace

import pytest
from planned import JOBS, benched, catalogue, worked

from planner.engine.packs import installed_rules
from planner.pictures.pictures import draw_stations
from planner.pictures.union import Looms
from planner.sheets.build.bench import bench_sheet
from planner.sheets.render.markdown import as_markdown
from planner.workshop.ends.stations import stations

# Commands are to be copied as they are; and the line that names the job to a program does so.
_COPIED = re.compile(r"```text.*?```|^Job: [^\n]*$", re.DOTALL | re.MULTILINE)


def inner_names(job: str) -> set[str]:
    """Names of files that are no words of the bench: of places, joiners, feeds, parts and rules."""
    names = worked(job).names
    found = {rule.name for rule in installed_rules()} | set(catalogue().parts)
    for loom in (names.before, names.after):
        found |= set(loom.places) | {at.partition(":")[2] for at in (*loom.ends_at, *loom.feeds) if ":" in at}
    return {name for name in found if re.search(r"[a-z][-_.][a-z]", name)}


@pytest.mark.parametrize("job", JOBS)
def test_no_inner_name_is_on_the_sheet(job: str) -> None:
    names, bench = worked(job).names, benched(job)
    looms = Looms(names.before, names.after, catalogue(), names.work.swapped, names.shown)
    drawn = tuple(draw_stations(looms, "wiring", stations(names)))
    said = _COPIED.sub("", as_markdown(bench_sheet(replace(bench, pictures=drawn)))).replace("\\", "")
    words = set(re.findall(r"[\w.-]*[a-z][-_.][a-z][\w-]*", said))
    # A name that is a word as well, such as push-on, stands in titles.
    titles = " ".join(
        [p.title for p in catalogue().parts.values()]
        + [p.title or "" for loom in (benched(job).before, benched(job).after) for p in loom.places.values()]
    ).casefold()
    assert {word for word in words & inner_names(job) if word not in titles} == set()
