"""What becomes of each terminal when one part takes another's place, and what that means for its ends."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.model.elements import Coil, Gauge
from planner.model.part import Part, Terminal
from planner.model.two_poles import return_contact
from planner.model.wording import counted, fitting_words
from planner.proof.part_bench import Bench, Pair, Pairing


@dataclass(frozen=True, slots=True)
class TerminalLine:
    """A pair of terminals, or one without a partner, with the work on the ends that it asks for."""

    original: str | None
    other: str | None
    why: str
    work: tuple[str, ...] = ()


def terminal_lines(bench: Bench, pairing: Pairing) -> Iterator[TerminalLine]:
    """Yield a line for each terminal of the original, then for those that only the other part has."""
    firsts: dict[str, str] = {}
    for mark in bench.original.terminals:
        pair = next((p for p in pairing.pairs if p.original == mark), None)
        if pair is None:
            yield TerminalLine(mark, None, *_without_partner(bench, pairing, mark))
        else:
            first = firsts.setdefault(pair.other, mark)
            yield TerminalLine(mark, pair.other, pair.why, tuple(_pair_work(bench, pair, first)))
    for mark in bench.other.terminals:
        if mark not in pairing.taken:
            yield TerminalLine(None, mark, *_only_there(bench, pairing, mark))


def same_place(old: Terminal, new: Terminal) -> bool | None:
    """Whether two terminals sit at the same place on the face; None if either place is not known."""
    return None if old.face is None or new.face is None else old.face == new.face


def is_mirrored(original: Part, other: Part, pairing: Pairing) -> bool:
    """Whether the faces are mirror images of each other, and not alike."""
    places = [
        (old, new)
        for p in pairing.pairs
        if (old := original.terminals[p.original].face) and (new := other.terminals[p.other].face)
    ]
    if all(old == new for old, new in places):
        return False
    for axis in (0, 1):
        along = [old[axis] for old, _ in places]
        both = min(along) + max(along)
        if all(new[axis] == both - old[axis] and new[1 - axis] == old[1 - axis] for old, new in places):
            return True
    return False


def _pair_work(bench: Bench, pair: Pair, first: str) -> Iterator[str]:
    old, new = bench.original.terminals[pair.original], bench.other.terminals[pair.other]
    if old.by == new.by == "mounting":
        return
    if new.by == "mounting":
        yield "earths through its mounting: bare metal under it, the old earth wire on the same fixing"
        return
    if old.by == "mounting":
        yield "make an earth wire to it: the original was earthed by its mounting"
        return
    if first != pair.original:
        way = "" if new.holds > 1 else ", on a piggyback" if new.piggyback else ", with a joiner"
        yield f"shares {pair.other} with the end from {first}{way}"
    elif _is_moved(bench, pair, old, new):
        yield (
            "the same mark, at another place"
            if pair.original == pair.other
            else f"its end goes to {pair.other}"
        )
    if not new.takes(old.usual_end):
        yield f"re-end it: {fitting_words(new.usual_end)} instead of {fitting_words(old.usual_end)}"
    if new.holds < old.holds:
        takes, took = counted(new.holds, "end"), counted(old.holds, "end")
        yield f"takes {takes}, the original {took}: a piggyback or a joiner for more"


def _is_moved(bench: Bench, pair: Pair, old: Terminal, new: Terminal) -> bool:
    """Whether an end lands on another mark or place; with one wired terminal there is nothing to confuse."""
    if all(sum(t.by == "wire" for t in p.terminals.values()) == 1 for p in (bench.original, bench.other)):
        return False
    place = same_place(old, new)
    return not place if place is not None else pair.original != pair.other


def _without_partner(bench: Bench, pairing: Pairing, mark: str) -> tuple[str, tuple[str, ...]]:
    if mark in pairing.apart:
        return "the plan puts its ends on no one terminal there", ()
    terminal = bench.original.terminals[mark]
    role = bench.roles.get(terminal.role) if terminal.role else None
    why = f"nothing there for: {role.meaning.partition(' (')[0]}" if role else "nothing there does the same"
    if terminal.by == "mounting":
        return why, ()
    same = (
        p.other
        for p in pairing.pairs
        if terminal.role and bench.original.terminals[p.original].role == terminal.role
    )
    target = next(same, None)
    if target is not None:
        return "fewer terminals for that there", (
            f"beside the other end on {target} if both are one conductor, otherwise cover it and tie it back",
        )
    beyond = _joined_through(bench, mark)
    if beyond is not None and not any(p.original == beyond for p in pairing.pairs):
        return why, (f"join it with the end from {beyond}: what is fed beyond goes through here",)
    if beyond is not None:
        return why, (f"beside the end from {beyond}: what is fed beyond goes through here",)
    if bench.wants_of(terminal) in ("live", "ignition"):
        return why, ("its end stays live: cover it and tie it back",)
    if role and role.wants in ("live", "ignition"):
        return why, ("its end may be live: cover it and tie it back",)
    return why, ("cover its end and tie it back",)


def _joined_through(bench: Bench, mark: str) -> str | None:
    """The other terminal of an ammeter or sensing coil in line, or of a return pole, that the other lacks."""
    gone = return_contact(bench.original, bench.other)
    if gone is not None and mark in gone.join:
        return next(m for m in gone.join if m != mark)
    if any(isinstance(e, Gauge | Coil) and e.is_in_series for e in bench.other.inside):
        return None
    for element in bench.original.inside:
        if isinstance(element, Gauge | Coil) and element.is_in_series and mark in element.between:
            beyond = next(m for m in element.between if m != mark)
            return beyond if beyond in bench.original.terminals else None
    return None


def _only_there(bench: Bench, pairing: Pairing, mark: str) -> tuple[str, tuple[str, ...]]:
    terminal = bench.other.terminals[mark]
    if mark in pairing.spare:
        why = f"always joined to {pairing.spare[mark]} inside"
        return why, () if terminal.covered else ("nothing has to go there: cover it",)
    if mark in pairing.bridged:
        link = pairing.bridged[mark]
        return f"same purpose as {link}", (f"link it to {link}: one terminal did for both",)
    why = "the original has nothing like it"
    if terminal.by == "mounting":
        return why, ("earths through its mounting: bare metal under it",)
    wants = {
        "live": "make a wire to it from a fused feed that is always live",
        "ignition": "make a wire to it from a fused feed that is live with the ignition",
        "earth": "make an earth wire to it",
    }.get(bench.wants_of(terminal))
    if wants:
        return why, (wants,)
    return why, () if terminal.covered else ("cover it, or connect what is new",)
