"""Malformed catalogue files: what can be done to any file, and one wrong thing at a time in each."""

import pytest
from small_catalogue import FILES

ROLES, SOURCES, LAMPS, SWITCHES = "roles.yaml", "sources.yaml", "parts/lamps.yaml", "parts/switches.yaml"
LOOM, JOB = "looms/small.yaml", "jobs/01-do-it.yaml"
# Of these no line is at fault, but the file.
WHOLE = {"empty", "only a remark", "too large"}


def _first_line(text: str) -> str:
    return text.partition("\n")[0]


def _to_any_file(text: str) -> dict[str, bytes]:
    """What is wrong with a file whatever it is of."""
    raw = text.encode()
    first = _first_line(text)
    deep = f"{text}deep: {'[' * 40}{']' * 40}\n"
    return {
        "empty": b"",
        "only a remark": b"# nothing yet\n",
        "too large": raw + b"#" * (4 * 1024 * 1024),
        "too many values": b"- x\n" * 60_000,
        "too many keys": b"".join(b"k%d: x\n" % n for n in range(60_000)),
        "cut in a bracket": raw[: raw.rindex(b"{") + 1],
        "cut in a quote": raw + b'"',
        "utf-16": text.encode("utf-16"),
        "utf-32": text.encode("utf-32"),
        "latin-1": raw + "# gr\u00fcn\n".encode("latin-1"),
        "a nul": raw + b"# \x00\n",
        "a bell": raw + b"# \x07\n",
        "a byte order mark inside": raw + "# \ufeff\n".encode(),
        "a direction mark": raw + "# \u202e\n".encode(),
        "a line separator": raw + "# \u2028\n".encode(),
        "a tab before": b"\t" + raw,
        "a scalar": b"just words\n",
        "a number": b"12\n",
        "nothing written": b"~\n",
        "a second document": raw + b"---\n" + raw,
        "an unended bracket": b"[\n" + raw,
        "too deep": deep.encode() if not text.startswith("- ") else b"- " * 40 + b"x\n",
        "a key that is a list": b"[a, b]: c\n",
        "an alias": b"*a\n",
        "an anchor": first.replace(": ", ": &a ", 1).encode() + raw[len(first.encode()) :],
        "a tag": first.replace(": ", ": !!str ", 1).encode() + raw[len(first.encode()) :],
        "a python object": b"!!python/object/apply:os.system ['true']\n",
        "windows lines and a wrong indent": raw.replace(b"\n", b"\r\n") + b" x\r\n",
        "old lines and a wrong indent": raw.replace(b"\n", b"\r") + b" x\r",
        "a byte order mark and a wrong indent": b"\xef\xbb\xbf" + raw + b" x\n",
        "a merge bomb": b"a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n",
    }


# file, what stands there once, what is written instead
WRONG: tuple[tuple[str, str, str], ...] = (
    (ROLES, "rank: 2,", "rank: 101,"),
    (ROLES, "rank: 2,", "rank: 2.5,"),
    (ROLES, "rank: 2,", "rank: two,"),
    (ROLES, "rank: 2, ", ""),
    (ROLES, "meaning: live", "meaning: ''"),
    (ROLES, "meaning: live", "meaning: live, mm2: 0"),
    (ROLES, "meaning: live", "meaning: live, wants: power"),
    (ROLES, "meaning: live", "meaning: live, words: {a: b}"),
    (ROLES, '"31": {rank', '"30": {rank'),
    (SOURCES, "basis: invented", "bases: invented"),
    (SOURCES, "title: Invented for the tests, ", ""),
    (SOURCES, "invented: {", "other: {"),
    (LAMPS, "part: lamp", "part: Lamp"),
    (LAMPS, "part: lamp", "part: switch"),
    (LAMPS, "part: sender", "part: lamp"),
    (LAMPS, "part: lamp", "part: " + "x" * 70),
    (LAMPS, "title: A lamp", "title: " + "x" * 101),
    (LAMPS, "family: lamp", "family: two words"),
    (LAMPS, "family: lamp", "family: lamp\n  volts: 0"),
    (LAMPS, "family: lamp", "family: lamp\n  volts: 12 V"),
    (LAMPS, "family: lamp", "family: lamp\n  volts: nan"),
    (LAMPS, "family: lamp", "family: lamp\n  volts: 1e9"),
    (LAMPS, "family: lamp", "family: lamp\n  years: 1961-66"),
    (LAMPS, "family: lamp", "family: lamp\n  minutes: soon"),
    (LAMPS, "family: lamp", "family: lamp\n  polarity: plus"),
    (LAMPS, "family: lamp", "family: lamp\n  must_not_be_earthed: maybe"),
    (LAMPS, "fitting: bullet", "fitting: blade-6"),
    (LAMPS, "fitting: bullet", "fitting: bullet, holds: 13"),
    (LAMPS, "fitting: bullet", "fitting: bullet, face: [1]"),
    (LAMPS, "fitting: bullet", "fitting: bullet, hold: 1"),
    (LAMPS, 'role: "30"', 'role: "99"'),
    (LAMPS, "nodes: [inner]", 'nodes: ["30"]'),
    (LAMPS, "nodes: [inner]", "nodes: inner"),
    (LAMPS, "watts: 5", "watts: 5 W"),
    (LAMPS, "watts: 5", "watts: -5"),
    (LAMPS, "watts: 5", "watts: [5]"),
    (LAMPS, "watts: 5, ", ""),
    (LAMPS, "lamp: {between", "lmap: {between"),
    (LAMPS, "[inner, case], when", "[inner, boot], when"),
    (LAMPS, "[inner, case], when", "[inner], when"),
    (LAMPS, "{empty: 10, full: 180}", "{}"),
    (LAMPS, "{empty: 10, full: 180}", "180"),
    (SWITCHES, "positions: [off, {on: slow}]", "positions: [off, off]"),
    (SWITCHES, "positions: [off, {on: slow}]", "positions: [off]"),
    (SWITCHES, "positions: [off, {on: slow}]", "positions: [off, {on: slow, of: x}]"),
    (SWITCHES, "returns: off", "returns: of"),
    (SWITCHES, "knob: on,", "knob: onn,"),
    (SWITCHES, "armature: [released, pulled]", "armature: [released, puled]"),
    (SWITCHES, "pulls_in_v: 7", "pulls_in_v: 2"),
    (SWITCHES, "stepped_by: armature", "stepped_by: beam"),
    (SWITCHES, "stepped_by: armature", "stepped_by: knob"),
    (SWITCHES, "turned_by: turn", "turned_by: blades"),
    (SWITCHES, "turned_by: turn", "turned_by: []"),
    (SWITCHES, "name: beam", "name: armature"),
    (SWITCHES, "kind: electronic", "kind: magic"),
    (SWITCHES, "supply: [supply, b]", "supply: [suply, b]"),
    (LOOM, "loom: small", "loom: Small Loom"),
    (LOOM, "volts: 12", "volts: 12 volts"),
    (LOOM, "earthed: negative", "earthed: minus"),
    (LOOM, "door: [shut, open]", "door: [shut]"),
    (LOOM, "zones: {bay: {}, dash: {}}", "zones: {bay: {}}"),
    (LOOM, "from: bay, to: dash", "from: bay, to: boot"),
    (LOOM, "metres: 1}]", "metres: 1 m}]"),
    (LOOM, '"30": RD', '"30": red'),
    (LOOM, '"30": RD', '"99": RD'),
    (LOOM, "when: {door: open}", "when: {doors: open}"),
    (LOOM, "when: {door: open}", "when: {door: ajar}"),
    (LOOM, 'feeds: {"feed:x"', 'feeds: {"x"'),
    (LOOM, "bay.lamp: {part: lamp", "bay.lamp: {part: lmap"),
    (LOOM, "bay.lamp: {part: lamp", "Bay Lamp: {part: lamp"),
    (LOOM, "bay.lamp: {part: lamp", "bay.sender: {part: lamp"),
    (LOOM, "wire: W2, colour: BK, mm2: 1", "wire: W2, colour: BK, mm2: 0"),
    (LOOM, "wire: W2, colour: BK, mm2: 1", "wire: W2, colour: BK, mm2: 14 AWG"),
    (LOOM, "wire: W2, colour: BK", "wire: W2, colour: black"),
    (LOOM, "wire: W2, colour: BK", "wire: W2, colour: [BK, RD, GN]"),
    (LOOM, "wire: W2", "wire: W1"),
    (LOOM, "wire: W2", "wire: W 2"),
    (LOOM, '{at: "dash.switch:b"}', "{at: dash}"),
    (LOOM, '{at: "dash.switch:b"}', '{at: "dash.switch:q"}'),
    (LOOM, '{at: "dash.switch:b"}', '{at: "dash.switch:b", known: guessed}'),
    (LOOM, '{at: "dash.switch:b"}, "bay.lamp:30"', '{at: "dash.switch:b"}'),
    (LOOM, "supply: {volts: 12", "suply: {volts: 12"),
    (JOB, "loom: small", "loom: smal"),
    (JOB, "loom: small", "loom: do-it-now"),
    (JOB, "loom: small", "loom: 01-do-it.yaml"),
    (JOB, "loom: small", "loom: ../jobs/01-do-it.yaml"),
    (JOB, "loom: small\n", ""),
    (JOB, "fit: lamp", "fit: lmap"),
    (JOB, "at: bay.lamp, fit: lamp", "at: bay.lamp"),
    (JOB, "at: bay.lamp, fit", "at: bay.lmap, fit"),
    (JOB, "zone: bay", "zone: boot"),
    (JOB, "mounting: insulated", "mounting: glued"),
    (JOB, "is: full", "is: bright"),
    (JOB, "what: glow", "what: glwo"),
    (JOB, "door: open, dash", "door: ajar, dash"),
    (JOB, "dash.switch/knob: on", "dash.switch/knub: on"),
    (JOB, "swaps:", "swap:"),
    (JOB, "is: off", "is: off}, {what"),
)
ANY = [
    pytest.param(file, what, content, id=f"{file}-{what}")
    for file, text in FILES.items()
    for what, content in _to_any_file(text).items()
    if text.encode() != content
]
ONE = [
    pytest.param(
        file, f"{old} > {new}", FILES[file].replace(old, new, 1).encode(), id=f"{file}-{old}-{new[:24]}"
    )
    for file, old, new in WRONG
]
CASES = [*ANY, *ONE]
