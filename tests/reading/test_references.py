"""A name that points at nothing is found where it stands, with the nearest that exist."""

import pytest
from marked import marked, places_of
from small_catalogue import FILES

from planner.problems import InputError
from planner.reading.catalogue import read_catalogue, read_job, read_loom

LAMPS, SWITCHES, LOOM, JOB = (
    "parts/lamps.yaml",
    "parts/switches.yaml",
    "looms/small.yaml",
    "jobs/01-do-it.yaml",
)
BODY = FILES[LOOM][FILES[LOOM].index("zones:") : FILES[LOOM].index("  bay.sender")]
W1_ENDS = '"feed:x", "dash.switch:a", loose'
SWAP = "{at: bay.lamp, fit: lamp}"
NEW = "{at: bay.new, fit: switch, zone: bay, mounting: insulated}"
WHEN = "when: {door: open, dash.switch/knob: on}"

CASES = [
    # parts
    (LAMPS, '{role: "30"', '{role: ¶"3O"', "no role is called '3O'", "30"),
    (SWITCHES, "source: invented", "source: ¶inventd", "no source is called 'inventd'", "invented"),
    (LAMPS, '["30", inner]', '["30", ¶iner]', "no terminal or node of this part is called 'iner'", "inner"),
    (
        SWITCHES,
        "join: [a, b]",
        "join: [a, ¶c]",
        "no terminal or node of this part is called 'c'",
        "one of: 85",
    ),
    (SWITCHES, "[supply, b]", "[¶suply, b]", "no terminal or node of this part is called 'suply'", "supply"),
    (SWITCHES, "knob: on,", "knob: ¶onn,", "no value of 'knob' is called 'onn'", "on"),
    (SWITCHES, "knob: on,", "knob: ¶slow,", "no value of 'knob' is called 'slow'", "one of: off, on"),
    (SWITCHES, "pulled]", "¶pulld]", "no value of 'armature' is called 'pulld'", "pulled"),
    (SWITCHES, "blades: parked", "blades: ¶park", "no value of 'blades' is called 'park'", "parked"),
    (
        SWITCHES,
        "stepped_by: armature",
        "stepped_by: ¶knob",
        "no armature of this part is called 'knob'",
        "armature",
    ),
    (SWITCHES, "turned_by: turn", "turned_by: ¶trun", "no load of this part is called 'trun'", "turn"),
    (
        SWITCHES,
        "turned_by: turn",
        "turned_by: [turn, ¶wipe]",
        "no load of this part is called 'wipe'",
        "turn",
    ),
    (SWITCHES, "returns: off", "returns: ¶of", "no position of 'knob' is called 'of'", "off"),
    (SWITCHES, "{on: slow}", "{on: slow}, ¶on", "two positions of 'knob' are labelled 'on'", None),
    (SWITCHES, '["85", b]', '¶["85", "85"]', "both ends of the coil are on '85'", None),
    # looms
    (LOOM, "part: lamp", "part: ¶lmap", "no part is called 'lmap'", "lamp"),
    (LOOM, "{part: lamp, zone: bay}", "{part: lamp, zone: ¶by}", "no zone is called 'by'", "bay"),
    (
        LOOM,
        'ends: [{at: "dash.switch:b"}',
        'bundle: ¶sill, ends: [{at: "dash.switch:b"}',
        "wire 'W2' lies alone in the bundle 'sill'",
        "the same bundle on another wire, or none",
    ),
    (
        LOOM,
        BODY,
        BODY.replace("bay: {}", "bay: {body: false}").replace("bay.lamp", "¶bay.lamp"),
        "its mounting cannot earth it: zone 'bay' has no body",
        "mounting: insulated",
    ),
    (LOOM, "from: bay", "from: ¶boy", "no zone is called 'boy'", "bay"),
    (LOOM, "to: dash", "to: ¶dsah", "no zone is called 'dsah'", "dash"),
    (LOOM, '"30": RD', '¶"3O": RD', "no role is called '3O'", "30"),
    (LOOM, '{role: "30"', '{role: ¶"3O"', "no role is called '3O'", "30"),
    (LOOM, "when: {door: open}", "when: {¶dor: open}", "no condition or control is called 'dor'", "door"),
    (LOOM, "when: {door: open}", "when: {door: ¶opn}", "no value of 'door' is called 'opn'", "open"),
    (LOOM, "when: {door: open}", "when: {¶knob: on}", "'knob' may mean 2 things here", "dash.switch/knob or"),
    (LOOM, "[empty, full]", "[empty, full, ¶full]", "two values of 'level' are labelled 'full'", None),
    (LOOM, "door: [", "lid: ¶[shut], door: [", "condition 'lid' needs two values or more", None),
    (LOOM, '"bay.lamp:30"', '¶"bay.lamp:31"', "no terminal of bay.lamp (lamp) is called '31'", "30"),
    (LOOM, '"bay.lamp:30"', '¶"bay.lmp:30"', "no place is called 'bay.lmp'", "bay.lamp"),
    (LOOM, '"dash.switch:b"', '¶"dash.swich:b"', "no place is called 'dash.swich'", "dash.switch"),
    (LOOM, W1_ENDS, W1_ENDS.replace('"feed:x"', "¶feed:y"), "no feed is called 'feed:y'", "feed:x"),
    (LOOM, '"earth:bay"', '¶"earth:by"', "no zone is called 'by'", "bay"),
    (LOOM, "wire: W2", "wire: ¶W1", "two wires are called 'W1'", "another id"),
    (
        LOOM,
        '"joint:j", unknown',
        '"joint:j", ¶"dash.switch:a"',
        "dash.switch:a holds 2, and 3 ends",
        "piggybacks",
    ),
    (
        LOOM,
        'covered: ["dash.switch:supply"]',
        'covered: [¶"dash.switch:suply"]',
        "is called 'suply'",
        "supply",
    ),
    (
        LOOM,
        'piggybacks: ["dash.switch:a"]',
        'piggybacks: ["dash.switch:a", ¶"bay.lamp:x"]',
        "is called 'x'",
        "one of: 30, case",
    ),
    (
        LOOM,
        'covered: ["dash.switch:supply"]',
        'covered: ["dash.switch:supply"]\nfuses: {¶"bay.lamp:30": 10}',
        "no fused side of a fuse is called 'bay.lamp:30'",
        None,
    ),
    # jobs
    (
        JOB,
        "loom: small",
        "loom: ¶smal",
        "your own looms and parts is given with --catalog DIR",
        "small",
    ),
    (JOB, SWAP, SWAP.replace("fit: lamp", "fit: ¶lmap"), "no part is called 'lmap'", "lamp"),
    (
        JOB,
        SWAP,
        SWAP.replace("bay.lamp", "¶bay.lmp"),
        "no place is called 'bay.lmp'",
        "bay.lamp; or zone and",
    ),
    (
        JOB,
        "accepts:",
        "minutes: {cover: 2, ¶pigyback: 2}\naccepts:",
        "no operation is called 'pigyback'",
        "piggyback",
    ),
    (JOB, "at: bay.sender", "at: ¶bay.snder", "no place is called 'bay.snder'", "bay.sender"),
    (JOB, "{at: bay.sender,", "{at: ¶bay.lamp,", "two swaps at 'bay.lamp'", "one swap for each place"),
    (JOB, NEW, NEW.replace("zone: bay", "zone: ¶by"), "no zone is called 'by'", "bay"),
    (
        JOB,
        NEW,
        NEW.replace(" zone: bay,", "").replace("bay.new", "¶bay.new"),
        "needs its zone",
        "zone: bay, dash",
    ),
    (
        JOB,
        NEW,
        NEW.replace(", mounting: insulated", "").replace("bay.new", "¶bay.new"),
        "its mounting",
        "metal",
    ),
    (
        JOB,
        SWAP,
        SWAP.replace("}", ", zone: ¶dash}"),
        "bay.lamp is in zone 'bay'; a swap cannot",
        "leaving zone",
    ),
    (JOB, "what: glow", "what: ¶glw", "no load is called 'glw'", "glow"),
    (JOB, "at: bay.lamp, is", "at: ¶bay.lmp, is", "no place is called 'bay.lmp'", "bay.lamp"),
    (JOB, "at: bay.lamp, is", "at: ¶bay.new, is", "nothing at bay.new is for 'glow'", "bay.lamp"),
    (JOB, "[dash.switch, bay.new]", "[dash.switch, ¶bay.nw]", "no place is called 'bay.nw'", "bay.new"),
    (JOB, WHEN, WHEN.replace("door", "¶dor"), "no condition or control is called 'dor'", "door"),
    (JOB, WHEN, WHEN.replace("open", "[open, ¶shutt]"), "no value of 'door' is called 'shutt'", "shut"),
    (JOB, WHEN, WHEN.replace("dash.switch/knob", "¶knob"), "'knob' may mean 3 things", "dash.other/knob"),
    (
        JOB,
        WHEN,
        "when: {¶overdrive: in}",
        "control is called 'overdrive'",
        "overdrive with its values under conditions",
    ),
    (
        JOB,
        WHEN,
        WHEN.replace("dash.switch/knob", "¶dash.swtch/knob"),
        "is called 'dash.swtch/knob'",
        "dash.switch/knob",
    ),
]


@pytest.mark.parametrize("case", CASES, ids=[f"{case[0].split('/')[0]}: {case[3]}"[:60] for case in CASES])
def test_each_dangling_name_is_said_at_its_place(catalogue_at, case):
    file, old, new, message, hint = case
    folder, places = catalogue_at(file, (old, new))
    with pytest.raises(InputError) as error:
        read_job("do-it-now", read_catalogue([folder]))
    assert places
    assert places_of(error.value) == places
    assert {problem.place.file for problem in error.value.problems} == {str(folder / file)}
    (problem,) = [problem for problem in error.value.problems if message in problem.message]
    assert (problem.hint is None) if hint is None else (problem.hint is not None and hint in problem.hint)


DOOR = 'or, in the loom, this line under conditions: door: ["shut", "opened", "open"]'
LEVEL = 'or, in the loom, this line under conditions: level: ["empty", "half", "full"]'
MORE = 'in the loom, this line under conditions: level: ["half", "whole", "empty", "full"]'
CONDITIONS = [
    (
        "door: [shut, open]",
        "dor: [shut, open]",
        "'door', which this loom's conditions do not have",
        'dor, or this line under conditions: door: ["at rest", "open"], the first by any name that you like',
        11,
    ),
    (
        "door: [shut, open]",
        "pedal: [up, down]",
        "'door', which this loom's conditions do not have",
        'this line under conditions: door: ["at rest", "open"], the first by any name that you like',
        11,
    ),
    (
        "door: [shut, open]",
        "door: [shut, opened]",
        "'door' at 'open', which is not one",
        f"opened; {DOOR}",
        11,
    ),
    (
        "[empty, full]",
        "[empty, half]",
        "'level' at 'full', which is not one",
        f"one of: empty, half; {LEVEL}",
        12,
    ),
    ("[empty, full]", "[half, whole]", "'empty' and 'full', which are not some", MORE, 12),
    ("[empty, full]", "[empty, half, full]", "part 'sender' has no ohms for 'level' at 'half'", None, 12),
]


@pytest.mark.parametrize("case", CONDITIONS, ids=[case[2][:50] for case in CONDITIONS])
def test_what_a_part_needs_of_the_loom_is_said_at_its_place(catalogue_at, case):
    old, new, message, hint, line = case
    folder, _ = catalogue_at(LOOM, (old, new))
    with pytest.raises(InputError) as error:
        read_loom("small", read_catalogue([folder]))
    (problem,) = [problem for problem in error.value.problems if message in problem.message]
    column = 20 if line == 11 else 22
    assert (problem.place.line, problem.place.column, problem.hint) == (line, column, hint)


def test_the_catalogue_of_these_tests_is_sound(catalogue_at):
    job, loom = read_job("do-it-now", read_catalogue([catalogue_at()[0]]))
    assert (job.job, loom.loom) == ("do-it-now", "small")


def test_a_missing_condition_is_said_at_the_place_that_needs_it(catalogue_at):
    folder, places = catalogue_at(
        LOOM, ("level: [empty, full]", "lvl: [empty, full]"), ("part: sender", "part: ¶sender")
    )
    with pytest.raises(InputError) as error:
        read_loom("small", read_catalogue([folder]))
    assert places_of(error.value) == places
    (problem,) = error.value.problems
    (related,) = problem.related
    assert (related[0].file, related[0].line, related[1]) == (str(folder / LAMPS), 12, "part 'sender'")


def test_the_line_to_add_for_a_condition_serves_all_parts_that_ask_for_it(catalogue_at):
    folder, _ = catalogue_at(
        LOOM, ("{door: [shut, open], level", "{level"), ("when: {door: open}", "when: {}")
    )
    (folder / "parts" / "more.yaml").write_text(
        "- part: bell\n  title: A bell\n  family: bell\n  source: invented\n  terminals: {a: {}, b: {}}\n"
        "  inside: [{contact: {join: [a, b], when: {door: ajar}}}]\n",
        encoding="utf-8",
    )
    loom = folder / LOOM
    text = loom.read_text(encoding="utf-8")
    loom.write_text(
        text.replace("places:\n", "places:\n  bay.bell: {part: bell, zone: bay}\n"), encoding="utf-8"
    )
    with pytest.raises(InputError) as error:
        read_loom("small", read_catalogue([folder]))
    lines = {p.hint for p in error.value.problems if "depends on 'door'" in p.message}
    assert len(lines) == 1
    assert 'door: ["at rest", "ajar", "open"]' in lines.pop()


def test_a_condition_that_only_the_new_part_needs_is_said_at_the_swap(catalogue_at):
    folder, _ = catalogue_at(
        LOOM, ("  bay.sender: {part: sender, zone: bay}\n", ""), (", level: [empty, full]", "")
    )
    job = folder / JOB
    job.write_text("job: do-it-now\nloom: small\nswaps: [{at: bay.lamp, fit: sender}]\n", encoding="utf-8")
    with pytest.raises(InputError, match="part 'sender' depends on 'level'") as error:
        read_job("do-it-now", read_catalogue([folder]))
    assert places_of(error.value) == [(3, 29)]


def test_a_full_terminal_names_the_ends_that_are_on_it(catalogue_at):
    folder, _ = catalogue_at(LOOM, ('piggybacks: ["dash.switch:a"]\n', ""))
    with pytest.raises(InputError, match=r"dash\.switch:a holds 1, and 2 ends are on it") as error:
        read_loom("small", read_catalogue([folder]))
    (problem,) = error.value.problems
    assert (problem.place.line, problem.place.column) == (17, 54)
    assert [(place.line, place.column) for place, _ in problem.related] == [(15, 64)]


def test_a_terminal_that_holds_two_takes_two(catalogue_at):
    folder, _ = catalogue_at(LOOM, ('"feed:x", "dash.switch:a"', '"bay.sender:a", "bay.sender:a"'))
    assert len(read_loom("small", read_catalogue([folder])).ends_at["bay.sender:a"]) == 2


def test_a_wish_may_name_a_control_of_the_part_before_or_after(catalogue_at):
    folder, _ = catalogue_at(
        JOB, (SWAP, "{at: bay.lamp, fit: switch}"), ("dash.switch/knob: on", "bay.lamp/knob: on")
    )
    job, _ = read_job("do-it-now", read_catalogue([folder]))
    assert job.wants[0].when == {"door": ("open",), "bay.lamp/knob": ("on",)}


def test_a_misspelt_place_makes_no_name_ambiguous(catalogue_at):
    fitted = ", ".join(["{at: bay.lamp, fit: beeper}", "{at: ¶bay.lmp, fit: beeper}"])
    text, places = marked(
        f"job: x\nloom: small\nswaps: [{fitted}]\nwants: [{{what: glow, when: {{hum: on}}}}]\n"
    )
    folder, _ = catalogue_at()
    (folder / JOB).write_text(text, encoding="utf-8")
    hum = "inside: [{control: {name: hum, positions: [off, on]}}]"
    beeper = f"- {{part: beeper, title: x, family: x, source: invented, terminals: {{a: {{}}}}, {hum}}}\n"
    (folder / "parts" / "beeper.yaml").write_text(beeper, encoding="utf-8")
    with pytest.raises(InputError, match=r"no place is called 'bay\.lmp'") as error:
        read_job("01-do-it", read_catalogue([folder]))
    assert places_of(error.value) == places


def test_faults_of_several_files_come_together_sorted_by_place(catalogue_at):
    folder, _ = catalogue_at(LAMPS, ('{role: "30"', '{role: "3O"'), ("follows: level", "follow: level"))
    switches = folder / SWITCHES
    switches.write_text(switches.read_text().replace("role:", "rol:"), encoding="utf-8")
    with pytest.raises(InputError) as error:
        read_catalogue([folder])
    found = [(problem.place.file, problem.message) for problem in error.value.problems]
    assert found == [
        (str(folder / LAMPS), "no role is called '3O'"),
        (str(folder / LAMPS), "follows is missing"),
        (str(folder / LAMPS), "unknown key 'follow'"),
        (str(folder / SWITCHES), "unknown key 'rol'"),
    ]


def test_a_job_that_asks_for_nothing_says_so(tmp_path, catalogue_at):
    folder, _ = catalogue_at()
    job = tmp_path / "job.yaml"
    job.write_text("job: mine\nloom: small\nswaps: []\n")
    with pytest.raises(InputError) as error:
        read_job(job, read_catalogue([folder]))
    (problem,) = error.value.problems
    assert (problem.place.line, problem.place.column) == (3, 8)
    assert "asks for nothing" in problem.message
    assert "{at: dash.switch, fit: PART}" in (problem.hint or "")
