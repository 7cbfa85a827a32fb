"""The page in a browser: switches thrown, ticks kept, read back and printed, by keyboard, wide and narrow."""

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any, Literal

import pytest
from axe_playwright_python.sync_playwright import Axe
from beside import THROWS, Beside, looms_of, throws
from browser import Opened, chromium, needs_browser
from odd_looms import ALL as ODD
from planned import benched, catalogue
from playwright.sync_api import Page, expect
from walker import AFTER, BEFORE, Walker, side_of

from planner.live.page_states import page_states
from planner.model.page_states import LiveControl, LiveDetent, LiveRow, Look, PageStates
from planner.pictures.pictures import draw_pictures
from planner.reading.ticks import read_ticks
from planner.sheets.build.bench_files import bench_files
from planner.sheets.render.page.page import as_page
from planner.sheets.render.shown import shown
from planner.sheets.sheet import Cell, Item, Listing, Section, Sheet, Table, say

pytestmark = needs_browser

JOBS = ("dip-relay-four-to-five", "led-indicators", "launch-two-speed-wiper")
_SEEN = """() => Object.fromEntries(["loads", "terminals", "wires"].map((list) => [list, Object.fromEntries(
    [...document.getElementById(list).rows].map((row) => [row.dataset.name,
      [...row.cells].slice(1).map((cell) => cell.textContent.replace(/^(≠ )?\\S+ /, ""))]))]))"""
_LIT = """() => ["before", "after"].map((when) => ["wire", "load", "terminal"].flatMap((mark) =>
    [...document.querySelectorAll(`#drawn-${when} [data-${mark}]`)].filter((part) => part.dataset.state).map(
      (part) => [mark, mark === "wire" ? `${part.dataset.wire}/${part.dataset.leg}` : part.dataset[mark],
        part.dataset.state])))"""
_LEVELS = """() => [...document.querySelectorAll("#drawings [data-load][data-state]")].map((part) => {
    const [level, circle] = [".level", "circle"].map((name) => part.querySelector(name).getBBox());
    const share = (side) => Math.round((20 * level[side]) / circle[side]) / 20;
    return [part.dataset.state, share("width"), share("height")];
  })"""
_BANDS = """() => [...document.querySelectorAll("#drawings [data-wire][data-potential]")].flatMap((part) => {
    const paths = [...part.querySelectorAll("path")];
    const own = paths.map((path) => [path.matches(".halo"), getComputedStyle(path)]);
    const widest = (halo) => Math.max(0, ...own.filter(([is, look]) => is === halo && look.stroke !== "none")
      .map(([, look]) => parseFloat(look.strokeWidth)));
    return widest(true) ? [[part.dataset.potential, widest(true), widest(false)]] : [];
  })"""
_LETTERS = """() => [...document.querySelectorAll("figure svg")].flatMap((svg) =>
    [...svg.querySelectorAll("text")].map((text) => text.getAttribute("font-size") * svg.getScreenCTM().a))"""
_THROW = """([control, detent]) => document.querySelectorAll("#controls fieldset")[control]
    .querySelectorAll("input")[detent].click()"""

_FOCUSED = """() => {
  const at = document.activeElement;
  return at === document.body ? "" : at.id || at.dataset.tick || at.name || at.tagName;
}"""


@pytest.fixture(scope="module")
def opened() -> Iterator[Opened]:
    with chromium() as browser:
        yield browser
        assert browser.complaints == []
        assert {url.partition(":")[0] for url in browser.requests} <= {"file", "blob"}


def _page(sheet: Sheet, job: str, states: PageStates, folder: Path) -> Path:
    path = folder / f"{job}.html"
    path.write_text(as_page(sheet, job, states), encoding="utf-8")
    return path


def _written(job: str, folder: Path, *, is_drawn: bool = False) -> tuple[Path, PageStates]:
    """The page of a job as the command writes it."""
    looms = looms_of(job)
    states = page_states(*looms, catalogue())
    bench = replace(benched(job), states=states)
    if is_drawn:
        swapped = tuple(card.at for card in bench.plan.cards)
        bench = replace(bench, pictures=draw_pictures(*looms, catalogue(), swapped))
    (file,) = bench_files(bench, ("html",))
    path = folder / file.name
    path.write_bytes(file.content)
    return path, states


def _throw(page: Page, control: int, detent: int) -> dict[str, dict[str, list[str]]]:
    page.evaluate(_THROW, [control, detent])
    seen: dict[str, dict[str, list[str]]] = page.evaluate(_SEEN)
    return seen


@pytest.mark.parametrize("job", JOBS)
def test_what_is_seen_is_true_before_and_after_in_fifty_positions(
    job: str, opened: Opened, tmp_path: Path
) -> None:
    path, states = _written(job, tmp_path)
    page = opened.open(path)
    sides = [Beside(states, loom, side, seed=5) for side, loom in enumerate(looms_of(job))]
    checked = 0
    for control, detent in throws(states, seed=3):
        seen = _throw(page, control, detent)
        for beside in sides:
            beside.throw(control, detent)
            for rows, row, true in beside.truths():
                assert set(seen[rows][row.name][beside.side].split(" or ")) == true, row.name
                checked += 1
    assert checked > THROWS * len(states.terminals)


def test_the_whole_van_is_seen_as_its_states_say(opened: Opened, tmp_path: Path) -> None:
    states = page_states(*looms_of("whole-van"), catalogue())
    page = opened.open(_page(Sheet("Whole van", ()), "whole-van", states, tmp_path))
    sides = [Walker(states, side) for side in (BEFORE, AFTER)]
    for control, detent in throws(states, seed=4):
        seen = _throw(page, control, detent)
        for walker in sides:
            walker.throw(states.controls[control], states.controls[control].detents[detent])
            for rows in ("loads", "terminals", "wires"):
                for row in getattr(states, rows):
                    if side_of(row, walker.side) is not None:
                        said = seen[rows][row.name][walker.side]
                        assert said == " or ".join(sorted(walker.words(row))), row.name
    assert float(page.locator("#live").get_attribute("data-paint") or "inf") < 50.0


@pytest.mark.parametrize("name", ODD)
def test_an_odd_loom_is_seen_as_its_states_say_with_its_alarms(
    name: str, opened: Opened, tmp_path: Path
) -> None:
    bench = ODD[name]
    states = page_states(bench.loom, bench.loom, bench.catalogue)
    page = opened.open(_page(Sheet("Odd", ()), "odd", states, tmp_path))
    walker = Walker(states, AFTER)
    for control, detent in ((0, 1), (0, 0), (0, 1)):
        seen = _throw(page, control, detent)
        walker.throw(states.controls[control], states.controls[control].detents[detent])
        for row in (*states.loads, *states.terminals, *states.wires):
            said = [rows[row.name] for rows in seen.values() if row.name in rows]
            assert said == [[" or ".join(sorted(walker.words(row)))] * 2]
        alarms = [f"{row.title} (before and after)" for row in states.alarms if walker.sounds(row)]
        assert page.locator("#summary .bad").all_inner_texts() == alarms


def test_the_drawings_say_what_the_tables_say_and_no_wire_hides_its_band(
    opened: Opened, tmp_path: Path
) -> None:
    path, states = _written("horn-and-push", tmp_path, is_drawn=True)  # wires that are moved lead to earth
    page = opened.open(path)
    titles = page.locator("#drawing option").all_inner_texts()
    assert titles and all(title.lower().startswith("circuit ") for title in titles)
    kinds: set[str] = set()
    for control, detent in throws(states, seed=6):
        seen = _throw(page, control, detent)
        for side, lit in enumerate(page.evaluate(_LIT)):
            for mark, name, state in lit:
                rows = {"wire": "wires", "load": "loads", "terminal": "terminals"}[mark]
                assert set(state.split("|")) == set(seen[rows][name][side].split(" or "))
                kinds.add(f"{mark} {state}")
        for potential, band, wire in page.evaluate(_BANDS):
            assert band > wire, potential
            kinds.add(f"band {potential}")
    assert {"band live", "band live through a load", "band earth"} <= kinds
    assert {"wire carries current", "wire no current", "load full", "load off", "terminal live"} <= kinds


def test_how_a_load_works_is_told_by_how_much_of_its_circle_is_filled(opened: Opened, tmp_path: Path) -> None:
    page = opened.open(_written("lighting-switch-one-feed", tmp_path, is_drawn=True)[0])
    page.locator("#drawing").select_option(index=page.locator("#drawing option").count() - 1)
    page.locator("input[name=shown][value=both]").check()
    filled: dict[str, set[tuple[float, float]]] = {}
    for control, detent in ((0, 1), (1, 1)):  # side lamps on; the instruments' dimmer down
        _throw(page, control, detent)
        for state, across, down in page.evaluate(_LEVELS):
            filled.setdefault(state, set()).add((across, down))
    assert filled == {"full": {(1, 1)}, "dim": {(0.5, 1)}}
    page.locator("#rest").click()
    assert {tuple(each) for each in page.evaluate(_LEVELS)} == {("off", 0, 0)}


def test_a_picture_is_wide_enough_for_its_letters_on_a_phone_a_tablet_and_a_large_screen(
    opened: Opened, tmp_path: Path
) -> None:
    path = _written("two-speed-wipers", tmp_path, is_drawn=True)[0]
    for width in (320, 820, 1600):
        page = opened.open(path, width=width)
        letters = page.evaluate(_LETTERS)
        assert letters and min(letters) >= 9.9, (width, min(letters))
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), width


_SEEN_DRAWINGS = """() => ["before", "after"].map((when) => {
  const box = document.querySelector(`#drawn-${when} svg`).getBoundingClientRect();
  return box.width ? [Math.round(box.left), Math.round(box.top + scrollY)] : null;
})"""


def test_before_and_after_stand_side_by_side_or_one_in_the_place_of_the_other(
    opened: Opened, tmp_path: Path
) -> None:
    path = _written("two-speed-wipers", tmp_path, is_drawn=True)[0]
    for width in (800, 1280):
        page = opened.open(path, width=width)
        before, after = page.evaluate(_SEEN_DRAWINGS)
        assert before is None and after, width
        page.locator("input[name=shown][value=before]").check()
        assert page.evaluate(_SEEN_DRAWINGS) == [after, None], width
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), width
    page = opened.open(_written("sports-coil", tmp_path, is_drawn=True)[0], width=1920)
    (left, top), (right, beside) = page.evaluate(_SEEN_DRAWINGS)
    assert top == beside and left < right
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


# -- ticks ---------------------------------------------------------------------------------------------------


def _ticks(page: Page) -> Any:
    return page.locator("input[data-step]:not([data-step=''])")


def test_ticks_outlive_the_page_and_another_plan_does_not_inherit_them(
    opened: Opened, tmp_path: Path
) -> None:
    path, _ = _written("led-indicators", tmp_path)
    page = opened.open(path)
    _ticks(page).nth(1).check()
    page.reload()
    assert [_ticks(page).nth(n).is_checked() for n in range(3)] == [False, True, False]
    other = opened.open(_written("trailer-socket-converter", tmp_path)[0])
    assert other.locator("input[data-tick]:checked").count() == 0
    assert other.evaluate("Object.keys(localStorage).length") == 1


def test_a_sheet_made_later_keeps_its_own_ticks_besides_those_of_the_browser(
    opened: Opened, tmp_path: Path
) -> None:
    def written(*done: int) -> Path:
        items = (
            Item(Cell(f"{n}."), Cell(f"Do {n}"), tick=f"do {n}", is_ticked=n in done) for n in range(1, 4)
        )
        sheet = Sheet("Later", (Section("Steps", (Listing(tuple(items)),)),))
        return _page(sheet, "later", PageStates((), (), (), (), (), (), (), (), (), (), ()), tmp_path)

    page = opened.open(written())
    _ticks(page).nth(0).check()
    page.goto(written(2).as_uri())
    assert [_ticks(page).nth(n).is_checked() for n in range(3)] == [True, True, False]


def test_saved_ticks_are_what_the_command_reads_and_are_read_back(opened: Opened, tmp_path: Path) -> None:
    path, _ = _written("dip-relay-four-to-five", tmp_path)
    page = opened.open(path)
    _ticks(page).nth(0).check()
    _ticks(page).nth(2).check()
    page.locator("#bar summary").click()
    page.locator("#found").fill("cut W1\n\n")
    with page.expect_download() as coming:
        page.locator("#save").click()
    saved = tmp_path / coming.value.suggested_filename
    coming.value.save_as(saved)
    steps = benched("dip-relay-four-to-five").plan.steps
    ids = {step.n: step.id for step in steps}
    ticks = read_ticks(saved)
    assert [tick.step for tick in ticks.done] == [
        _ticks(page).nth(n).get_attribute("data-tick") for n in (0, 2)
    ]
    assert {tick.step for tick in ticks.done} <= set(ids.values()) and len(ticks.found) == 1

    page.locator("#clear").click()
    assert page.locator("input[data-tick]:checked").count() == 0
    page.locator("#read").set_input_files(saved)
    expect(page.locator("input[data-tick]:checked")).to_have_count(2)
    expect(page.locator("#said")).to_contain_text("Read 2 ticks")
    assert page.locator("#found").input_value() == "cut W1"

    text = tmp_path / "done.txt"
    text.write_text("[x] 1. took it out\n2-3\n[ ] 4\n# nothing\n99\n")
    page.locator("#read").set_input_files(text)
    expect(page.locator("input[data-tick]:checked")).to_have_count(3)
    expect(page.locator("#said")).to_contain_text("1 of its lines are not on this sheet")


def test_what_is_no_file_of_ticks_ticks_nothing(opened: Opened, tmp_path: Path) -> None:
    page = opened.open(_written("led-indicators", tmp_path)[0])
    for content in (b"\x00\xff", b'{"done": 7, "written": [1]}', json.dumps([1]).encode(), b""):
        (tmp_path / "bad.json").write_bytes(content)
        page.locator("#read").set_input_files(tmp_path / "bad.json")
        expect(page.locator("#said")).to_contain_text("Read 0 ticks")
        page.evaluate("document.getElementById('said').textContent = ''")
    assert page.locator("input[data-tick]:checked").count() == 0


HOSTILE = (
    "</script><script>document.title='broken'</script>",
    "<img src=x onerror=\"document.title='broken'\">",
    "{constructor} ${document.title='broken'} \u202eltr\u202c \u2028 \u0000",
    "\u05e9\u05dc\u05d5\u05dd \u0645\u0631\u062d\u0628\u0627",
    "=1+1\t@SUM(A1)" * 3,
    "x" * 10_000,
)


@pytest.mark.parametrize("hostile", HOSTILE, ids=range(len(HOSTILE)))
def test_what_a_file_calls_its_parts_is_only_ever_text(hostile: str, opened: Opened, tmp_path: Path) -> None:
    control = LiveControl(hostile, hostile, 0, 0, (LiveDetent(hostile, 0, 0), LiveDetent("on", 1, 1)))
    row = LiveRow(hostile, hostile, Look(0), Look(-1))
    alarm = LiveRow("alarm", hostile, Look(-3), Look(-4))
    states = PageStates(
        ("off", "full", "there", "not there"),
        ((0, -1, -2),),
        ("v",),
        (),
        (),
        (control,),
        (row,),
        (),
        (),
        (),
        (alarm,),
    )
    item = Item(Cell("1."), Cell(hostile), (Cell(hostile),), tick=hostile, write_in=hostile)
    blocks = (say(hostile), Table((hostile,), ((Cell(hostile),),)), Listing((item,)))
    page = opened.open(_page(Sheet(hostile, (Section(hostile, blocks),)), "hostile", states, tmp_path), 320)
    _ticks(page).nth(0).check()
    page.locator("[data-note]").fill(hostile)
    page.reload()
    assert _ticks(page).nth(0).is_checked()
    text = page.locator("body").inner_text()
    plain = " ".join(shown(hostile).split())
    assert " ".join(text.split()).count(plain) >= 8 and page.title() == plain
    assert page.evaluate("document.documentElement.scrollWidth") <= 320


# -- how it is used ------------------------------------------------------------------------------------------


def test_everything_works_with_the_keyboard_alone(opened: Opened, tmp_path: Path) -> None:
    page = opened.open(_written("led-indicators", tmp_path)[0])
    reached: list[str] = []
    for _ in range(200):
        page.keyboard.press("Tab")
        name = page.evaluate(_FOCUSED)
        if not name:
            break
        reached.append(name)
        if name == "control-0":
            page.keyboard.press("ArrowRight")
    wanted = {"save", "read", "clear", "rest", "only", "control-0", "control-1"}
    assert wanted <= set(reached) and any(name.startswith("fit ") for name in reached)
    assert page.locator("#controls input:checked").nth(0).get_attribute("value") == "1"
    first = _ticks(page).nth(0)
    first.focus()
    page.keyboard.press("Space")
    assert first.is_checked()


@pytest.mark.parametrize("width", [320, 600, 820, 1200, 1600])
def test_nothing_runs_out_of_the_window(width: int, opened: Opened, tmp_path: Path) -> None:
    page = opened.open(_written("launch-two-speed-wiper", tmp_path, is_drawn=True)[0], width)
    for summary in page.locator("details > summary").all():
        summary.click()
    assert page.evaluate("document.documentElement.scrollWidth") <= width


_BESIDE_OR_BELOW = """() => [...document.querySelectorAll("#controls fieldset")].map((set) => {
  const name = set.querySelector("legend").getBoundingClientRect();
  const labels = [...set.querySelectorAll("label")].map((label) => label.getBoundingClientRect());
  const isBeside = labels.every((label) => label.left >= name.right - 1);
  return isBeside || labels.every((label) => label.top >= name.bottom - 1);
})"""


@pytest.mark.parametrize("width", [320, 768, 1200, 1600])
def test_positions_stand_beside_their_switch_or_below_it_never_partly_both(
    width: int, opened: Opened, tmp_path: Path
) -> None:
    page = opened.open(_written("launch-two-speed-wiper", tmp_path)[0], width)
    beside = page.evaluate(_BESIDE_OR_BELOW)
    assert len(beside) > 5 and all(beside)


def test_on_a_phone_each_cell_of_a_row_is_told_with_its_heading_and_no_word_is_broken(
    opened: Opened, tmp_path: Path
) -> None:
    page = opened.open(_written("launch-two-speed-wiper", tmp_path)[0], 320)
    row = page.locator("tr:has(td[data-heading='Needed'])").first
    told = row.locator("td").evaluate_all("all => all.map((td) => getComputedStyle(td, '::before').content)")
    assert "Needed" in told[1] and "To buy" in told[3] and told[0] == "none"
    assert row.evaluate("row => row.getBoundingClientRect().width") <= 320


def test_on_paper_what_stands_below_a_step_is_no_larger_than_the_step(opened: Opened, tmp_path: Path) -> None:
    page = opened.open(_written("led-indicators", tmp_path)[0])
    page.emulate_media(media="print", color_scheme="dark")
    sizes = page.evaluate(
        "[...document.querySelectorAll('.below, .tick > span')].map((each) => "
        "[each.className, parseFloat(getComputedStyle(each).fontSize)])"
    )
    step = {size for name, size in sizes if name != "below"}
    assert step and max(size for name, size in sizes if name == "below") <= min(step)
    assert page.evaluate("getComputedStyle(document.body).color") == "rgb(28, 27, 24)"  # paper is never dark


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [360, 1200])
def test_nothing_stands_in_the_way_of_those_who_cannot_see_or_point(
    width: int, scheme: Literal["light", "dark"], opened: Opened, tmp_path: Path
) -> None:
    page = opened.open(_written("launch-two-speed-wiper", tmp_path, is_drawn=True)[0], width)
    page.emulate_media(color_scheme=scheme)
    for summary in page.locator("details > summary").all():
        summary.click()
    found = Axe().run(page).response
    assert [(each["id"], each["impact"]) for each in found["violations"]] == [] and len(found["passes"]) > 20


def test_it_prints_the_steps_and_leaves_the_switches_out(opened: Opened, tmp_path: Path) -> None:
    page = opened.open(_written("led-indicators", tmp_path)[0])
    pdf = page.pdf(format="A4")
    assert pdf.startswith(b"%PDF") and len(pdf) > 10_000
    page.emulate_media(media="print")
    assert not page.locator("#live").is_visible() and not page.locator("#bar").is_visible()
    assert _ticks(page).nth(0).is_visible()
