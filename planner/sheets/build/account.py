"""The sheet of a loom explained: what each circuit does, and what is odd about it."""

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

from planner.inquiry.loom.account import FindingKind, LoadLine, LoomAccount, SwapLine, Way
from planner.model.wording import appearance_words
from planner.sheets.sheet import Block, Cell, Item, Listing, Meaning, Section, Sheet, Table, bullets, say

FINDINGS: Mapping[FindingKind, tuple[str, Meaning]] = MappingProxyType(
    {
        "battery-open": ("Begin here: it may be why other things never work", "bad"),
        "short-circuit": ("Short circuits", "bad"),
        "fed-twice": ("Fed twice at once", "bad"),
        "finds-no-rest": ("Relays that find no rest", "bad"),
        "never-works": ("What never works", "warn"),
        "never-live": ("Wires that are never live", "warn"),
        "wants-something": ("Terminals that have not what they need", "warn"),
        "ends-nowhere": ("Wires that end nowhere", "warn"),
        "colour": ("Colours that contradict what the wire is", "warn"),
        "assumed": ("Only assumed: measure before you lean on it", "note"),
        "marks": ("What the marks of your list were taken for", "note"),
    }
)
SEVERAL = "Fed in more than one way"
PARKING = "Parking"


def account_sheet(found: LoomAccount, swaps: Sequence[SwapLine] = ()) -> Sheet:
    """A loom explained; for a job, first what it swaps."""
    sections = (
        Section("", tuple(_opening(found))),
        Section("What the job swaps", tuple(_swaps(swaps))),
        *_findings(found, ("bad",)),
        *_circuits(found.loads),
        *_findings(found, ("warn", "note")),
        Section("What this loom leaves out", (bullets(found.not_seen, "warn"),) if found.not_seen else ()),
    )
    return Sheet(found.title, tuple(section for section in sections if section.blocks))


def _opening(found: LoomAccount) -> Iterator[Block]:
    yield say(f"Loom: {found.loom}. {found.supply}. Loads: {len(found.loads)}.")
    odd = [f for f in found.findings if f.kind not in ("assumed", "marks")]
    assumed = sum(f.kind == "assumed" for f in found.findings)
    if not odd:
        yield say("Nothing odd: all that is drawn works, and every end is somewhere.", "good")
    if assumed:
        yield say(f"Facts that are only assumed: {assumed}; see the end.", "note")
    if any(f.kind == "marks" for f in found.findings):
        yield say(
            "The marks of your list were taken for those of the parts: see the end. Where one means "
            "something else, say so at its place in the loom's file: marks: {YOURS: ITS}.",
            "note",
        )


def _swaps(swaps: Sequence[SwapLine]) -> Iterator[Block]:
    if swaps:
        rows = tuple(
            (Cell(line.title, "strong"), Cell(line.old or "nothing"), Cell(line.new or "nothing"))
            for line in swaps
        )
        yield Table(("Where", "Taken out", "Put in"), rows)


def _circuits(loads: Sequence[LoadLine]) -> Iterator[Section]:
    """Yield a section for each fuse or feed with all that hangs on it; what never works is a finding."""
    circuits: dict[str, list[LoadLine]] = {}
    for line in (line for line in loads if line.works):
        circuits.setdefault(_circuit(line), []).append(line)
    last = (SEVERAL, PARKING)
    for name in sorted(circuits, key=lambda name: last.index(name) if name in last else -1):
        items = tuple(_load(line, name) for line in circuits[name])
        yield Section(name, (Listing(items),))


def _circuit(line: LoadLine) -> str:
    fed = {way.fuses[-1] if way.fuses else way.source for way in line.ways}
    if len(fed) > 1:
        return SEVERAL
    return f"Fed from {fed.pop()}" if fed else PARKING


def _load(line: LoadLine, circuit: str) -> Item:
    below = [Cell(f"{_look_words(look)}: {when}") for look, when in line.works]
    for way in line.ways:
        below += [Cell(text, "quiet") for text in _way(way, circuit)]
    return Item(Cell("-"), Cell(_name(line), "strong"), tuple(below))


def _look_words(look: str) -> str:
    """How a load appears, at the head of a line: what a gauge reads stands there as it is."""
    return look if look.startswith("reads ") else appearance_words(look)


def _name(line: LoadLine) -> str:
    """What a load does and where, each word once: ``sound the horn``, ``left tail and stop lamp``."""
    if line.title in line.what:
        return line.what
    return line.title if line.what in line.title else f"{line.what}, {line.title}"


def _way(way: Way, circuit: str) -> Iterator[str]:
    source = " and ".join(part for part in (way.source, *way.fuses) if not circuit.endswith(part))
    opening = f"{way.when}: " if way.when else ""
    fed = f"from {source}" if source else ""
    through = f"through {', '.join(way.through)}" if way.through else ""
    road = ", ".join(part for part in (fed, through) if part)
    if opening or road:
        yield f"- {opening}{road or 'straight'}"
    if way.wires:
        yield f"- wires: {', '.join(way.wires)}"
    yield f"- earth: {way.earth}"


def _findings(found: LoomAccount, meanings: tuple[Meaning, ...]) -> Iterator[Section]:
    """Yield a section for each kind of finding: the dangerous ones stand before the circuits."""
    for kind, (heading, meaning) in FINDINGS.items():
        texts = tuple(
            line.text if line.when in ("", "always") else f"{line.text}, {line.when}"
            for line in found.findings
            if line.kind == kind
        )
        if texts and meaning in meanings:
            yield Section(heading, (bullets(texts, meaning),))
