"""What becomes of a wire on its way: open, a poor joint, a short to earth, chafed together with another."""

from collections.abc import Iterator, Mapping
from itertools import islice

from planner.currents.grid import BODY, Gated, Grid
from planner.currents.laws import Resistance
from planner.currents.solver import Branch
from planner.messages import tr
from planner.model.loom import Wire, split_address
from planner.testing.mistakes.beside import lying_together
from planner.testing.mistakes.mistake import Change, Kind, Mistake
from planner.testing.mistakes.priors import weight
from planner.testing.wired import Wired

POOR_OHMS = (0.3, 3.0, 30.0, 1000.0)  # of a joint: nobody knows; one size for each tenfold or so
BARE_OHMS = 0.02  # where bare copper touches bare metal or copper; common practice, no source
MOST_BESIDE = 400  # pairs of wires that lie together and may have chafed, those that lie closest first


def poor_changes(leg: Branch) -> tuple[Change, ...]:
    """A leg with a poor joint: a change for each size that stands for those of unknown ohms."""
    assert isinstance(leg.law, Resistance)
    return tuple(
        Change(
            gone=(leg.name,),
            added=(Gated(leg._replace(law=Resistance(leg.law.ohms + ohms)), ()),),
            words=tr("about {ohms:g} ohm", ohms=ohms),
        )
        for ohms in POOR_OHMS
    )


class Conductors:
    """The faults of the wires of one loom."""

    def __init__(self, wired: Wired, grid: Grid) -> None:
        self.wired, self.loom = wired, wired.loom
        self.branches: Mapping[tuple[str, ...], Branch] = {
            gated.branch.name: gated.branch for gated in grid.branches if gated.kind == "wire"
        }

    def every(self) -> Iterator[Mistake]:
        """Yield them all, wire after wire."""
        for wire in self.loom.wires:
            for leg in range(len(wire.ends) - 1):
                yield from self._leg(wire, leg)
        yield from self._chafed()

    def _leg(self, wire: Wire, leg: int) -> Iterator[Mistake]:
        name = ("wire", wire.wire, str(leg))
        branch = self.branches[name]
        touched = {(wire.wire, leg), (wire.wire, leg + 1)} & self.wired.touched_ends
        called = self.wired.wire(wire.wire, leg + 1)
        one, other = self.wired.at(wire.ends[leg].at), self.wired.at(wire.ends[leg + 1].at)
        mend = (wire.ends[leg].at, wire.ends[leg + 1].at)
        tag = f"{wire.wire}/{leg}"
        yield Mistake(
            f"{tag}-open",
            "wire open",
            tr("{wire} is broken between {one} and {other}", wire=called, one=one, other=other),
            weight("wire open", touched=bool(touched)),
            mend,
            (Change(gone=(name,)),),
        )
        to_earth = any(split_address(at)[0] == "earth" for at in mend)
        kind: Kind = "earth poor" if to_earth else "poor joint"
        yield Mistake(
            f"{tag}-poor",
            kind,
            tr("{wire} has a poor joint between {one} and {other}", wire=called, one=one, other=other),
            weight(kind, touched=bool(touched)),
            mend,
            poor_changes(branch),
        )
        if not to_earth and not {"loose", "unknown"} & set(mend):
            short = Branch(("short", wire.wire, str(leg)), branch.b, BODY, Resistance(BARE_OHMS))
            yield Mistake(
                f"{tag}-earthed",
                "short to earth",
                tr("{wire} touches the body between {one} and {other}", wire=called, one=one, other=other),
                weight("short to earth", touched=bool(touched)),
                mend,
                (Change(added=(Gated(short, ()),)),),
            )

    def _chafed(self) -> Iterator[Mistake]:
        for (one, other), ways in islice(lying_together(self.loom).items(), MOST_BESIDE):
            a, b = self.branches["wire", one, "0"].b, self.branches["wire", other, "0"].b
            touched = bool({one, other} & self.wired.touched_wires)
            joint = Branch(("chafed", one, other), a, b, Resistance(BARE_OHMS))
            yield Mistake(
                f"{one}-chafed-{other}",
                "chafed together",
                tr(
                    "{one} and {other} are chafed and touch",
                    one=self.wired.wire(one),
                    other=self.wired.wire(other),
                ),
                weight("chafed together", touched=touched, ways=ways),
                (a, b),
                (Change(added=(Gated(joint, ()),)),),
            )
