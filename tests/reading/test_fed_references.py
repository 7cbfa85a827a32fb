"""A vehicle that nothing feeds is refused where its description lacks it; one that is fed is not."""

from pathlib import Path

import pytest
from small_catalogue import FILES

from planner.model.catalogue import Catalogue
from planner.problems import InputError, Problem
from planner.reading.catalogue import read_catalogue, read_job, read_loom

BATTERY = """\
- part: battery
  title: A battery
  family: battery
  source: invented
  terminals: {"+": {role: "30"}, "-": {role: "31"}}
  inside:
    - source: {between: ["+", "-"], volts: 12}
- part: dynamo
  title: A dynamo
  family: generator
  source: invented
  terminals: {"+": {role: "30"}, "-": {role: "31"}}
  inside:
    - source: {between: ["+", "-"], volts: 12, when: {door: open}}
"""
LOOM = """\
loom: fed
supply: {volts: 12, earthed: negative}
conditions: {door: [shut, open], level: [empty, full]}
zones: {bay: {}}
feeds: {"feed:x": {role: "30"}}
places:
  bay.lamp: {part: lamp, zone: bay}
  bay.source: {part: battery, zone: bay, mounting: insulated}
wires:
  - {wire: W1, colour: RD, mm2: 1, metres: 1, ends: ["bay.source:+", "bay.lamp:30"]}
  - {wire: W2, colour: BK, mm2: 1, metres: 1, ends: ["bay.source:-", "earth:bay"]}
"""
LIVE, EARTHED = LOOM.splitlines(keepends=True)[-2:]


def _catalogue(folder: Path, loom: str, job: str = "") -> Catalogue:
    files = {**FILES, "parts/batteries.yaml": BATTERY, "looms/fed.yaml": loom}
    files |= {"jobs/02-fed.yaml": f"job: fed-job\nloom: fed\nswaps: [{job}]\n"} if job else {}
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return read_catalogue([folder])


def _refused(catalogue: Catalogue) -> Problem:
    with pytest.raises(InputError) as error:
        read_loom("fed", catalogue)
    (problem,) = error.value.problems
    return problem


@pytest.mark.parametrize(
    "loom",
    [
        LOOM,
        LOOM.replace("part: battery", "part: dynamo").replace('"bay.source:+", "bay', '"feed:x", "bay'),
        LOOM[: LOOM.index("wires:")] + "wires: []\n",
    ],
    ids=["a battery on its wires", "a dynamo beside a feed", "no wire yet"],
)
def test_what_is_fed_is_read(tmp_path, loom):
    assert read_loom("fed", _catalogue(tmp_path, loom)).loom == "fed"


def test_a_generator_alone_feeds_nothing_and_the_supply_is_where_it_is_said(tmp_path):
    problem = _refused(_catalogue(tmp_path, LOOM.replace("part: battery", "part: dynamo")))
    assert "nothing feeds this loom: no place is a battery, and no wire begins at a feed" in problem.message
    assert (problem.place.line, problem.place.column) == (2, 9)
    assert problem.hint is not None and 'feeds: {"feed:battery": always live}' in problem.hint


@pytest.mark.parametrize(("wire", "post"), [(LIVE, "+"), (EARTHED, "-")])
def test_a_battery_with_a_bare_post_beside_a_generator_feeds_nothing(tmp_path, wire, post):
    dynamo = "  bay.dynamo: {part: dynamo, zone: bay, mounting: insulated}\nwires:"
    problem = _refused(_catalogue(tmp_path, LOOM.replace(wire, "").replace("wires:", dynamo)))
    assert f"no wire joins bay.source:{post} to the rest" in problem.message
    assert (problem.place.line, problem.place.column) == (8, 3)


def test_a_battery_with_a_bare_post_and_no_generator_is_read(tmp_path):
    assert read_loom("fed", _catalogue(tmp_path, LOOM.replace(EARTHED, ""))).loom == "fed"


def test_a_piece_without_any_source_is_read(tmp_path):
    piece = LOOM.replace("  bay.source: {part: battery, zone: bay, mounting: insulated}\n", "")
    piece = piece.replace(LIVE, "").replace("bay.source:-", "bay.lamp:30")
    job = "{at: bay.lamp, fit: nothing}"
    assert read_job("fed-job", _catalogue(tmp_path, piece, job))[1].loom == "fed"


def test_a_job_that_leaves_a_generator_without_a_battery_is_refused_at_its_swap(tmp_path):
    job = "{at: bay.source, fit: nothing}"
    assert read_job("fed-job", _catalogue(tmp_path, LOOM, job))[0].job == "fed-job"
    charged = LOOM.replace("wires:", "  bay.dynamo: {part: dynamo, zone: bay, mounting: insulated}\nwires:")
    with pytest.raises(InputError) as error:
        read_job("fed-job", _catalogue(tmp_path, charged, job))
    (problem,) = error.value.problems
    assert "with this battery out, nothing feeds the vehicle any more" in problem.message
    assert (problem.place.line, problem.place.column) == (3, 31)


def test_a_battery_that_gives_way_to_another_is_no_fault(tmp_path):
    moved = "{at: bay.source, fit: nothing}, {at: bay.new, fit: battery, zone: bay, mounting: insulated}"
    assert read_job("fed-job", _catalogue(tmp_path, LOOM, moved))[0].job == "fed-job"
    like = "{at: bay.source, fit: battery}"
    assert read_job("fed-job", _catalogue(tmp_path, LOOM, like))[0].job == "fed-job"
