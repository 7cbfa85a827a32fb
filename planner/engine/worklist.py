"""From a settled candidate to a work list: wires named, steps grouped by place, cards per part.

Within a place what frees a terminal comes before what needs it; new wires come last, place by place. An end
that stays on its mark at a swapped place belongs to fitting the part and is no step of its own.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import count
from typing import Any, TypeGuard

from planner.engine.costs import minutes
from planner.model.catalogue import Catalogue
from planner.model.delta import (
    Add,
    ChangeFuse,
    ChangeSupply,
    Cover,
    Cut,
    Extend,
    Fit,
    Hold,
    Insert,
    Join,
    Make,
    Move,
    Operation,
    Piggyback,
    Reason,
    ReEnd,
    Remove,
    Renew,
    Step,
    last_words,
)
from planner.model.elements import Diode, Led, Source, Stabiliser
from planner.model.job import Job
from planner.model.loom import USUAL_INSULATION, Loom, Wire, split_address
from planner.model.plan import Card, CardRow, PlanStep
from planner.model.reach import is_fed
from planner.model.wording import address_words, colour_words, fitting_words, mark_words, small

_UNKNOWN_COVER = "unknown-end-without-home"
_LIVE_COVERS = ("live-end-without-home", "chain-end-without-home")
_ORDER = (
    "supply",
    "remove",
    "fit",
    "fuse",
    "cut",
    "extend",
    "re-end",
    "piggyback",
    "hold",
    "move",
    "join",
    "insert",
    "renew",
    "add",
    "cover",
)
NEW_WIRE = "N"


class WorkList:
    """Orders and words the steps of one settled plan."""

    def __init__(
        self, before: Loom, after: Loom, steps: Sequence[Step], catalogue: Catalogue, job: Job
    ) -> None:
        self.before, self.after, self.catalogue, self.job = before, after, catalogue, job
        swaps = [swap.at for swap in job.swaps]
        # A part that a remedy takes out is worked on like those that the job swaps, after them.
        taken_out = [step.operation.at for step in steps if isinstance(step.operation, Remove)]
        self._places = {place: index for index, place in enumerate(dict.fromkeys((*swaps, *taken_out)))}
        self._batteries = frozenset(self._battery_places()) if job.supply else frozenset()
        made = {s.operation.wire.wire: s for s in steps if isinstance(s.operation, Make)}
        self._made = {name: step.operation for name, step in made.items()}
        # An end of a new wire that is moved is made for where it ends up: one step, with both reasons.
        self._moved: dict[str, list[Reason]] = {}
        for step in last_words(steps):
            if self._is_of_a_new_wire(step.operation):
                self._moved.setdefault(step.operation.wire, []).append(step.why)
        # A fuse that is changed twice is changed once, from what was in before the work.
        self._first_fuses: dict[str, ChangeFuse] = {}
        for step in steps:
            if isinstance(step.operation, ChangeFuse):
                self._first_fuses.setdefault(step.operation.at, step.operation)
        kept = [
            (step, made.get(step.operation.wire.wire) if isinstance(step.operation, Add) else None)
            for step in last_words(steps)
            if not isinstance(step.operation, Make)
            and not self._is_part_of_fit(step.operation)
            and not self._is_of_a_new_wire(step.operation)
            and not self._is_put_back(step.operation)
        ]
        self._stays: dict[str, list[Operation]] = {}
        for step in last_words(steps):
            if self._is_part_of_fit(step.operation):
                place = split_address(step.operation.was)[0]
                self._stays.setdefault(place, []).append(step.operation)
        kept = _moves_in_turn(kept)
        kept.sort(key=lambda pair: self._rank(pair[0].operation))
        self._kept = kept
        self._cuts = [s.operation for s, _ in kept if isinstance(s.operation, Cut)]
        added = [s.operation for s, _ in kept if isinstance(s.operation, Add | Insert)]
        wires = [o.wire.wire if isinstance(o, Add) else o.lead.wire for o in added]
        free = (name for n in count(1) if (name := f"{NEW_WIRE}{n}") not in before.wire_index)
        self._names = dict(zip(wires, free, strict=False))

    # -- order ---------------------------------------------------------------------------------------------

    @staticmethod
    def _is_part_of_fit(operation: Operation) -> TypeGuard[Move]:
        return isinstance(operation, Move) and operation.was == operation.to

    def _battery_places(self) -> Iterator[str]:
        """The swapped places at which a battery is put in."""
        for place in self._places:
            fitted = self.after.places.get(place)
            inside = self.catalogue.parts[fitted.part].inside if fitted else ()
            if any(isinstance(element, Source) and not element.when for element in inside):
                yield place

    def _is_put_back(self, operation: Operation) -> bool:
        """Whether a later word on a fuse is that the first one stays in after all."""
        first = self._first_fuses.get(operation.at) if isinstance(operation, ChangeFuse) else None
        return (
            isinstance(operation, ChangeFuse)
            and first is not None
            and first is not operation
            and first.printed == operation.amps
        )

    def _is_of_a_new_wire(self, operation: Operation) -> TypeGuard[Move]:
        """Whether it moves an end of a wire that the plan adds: that is run to where it goes in the end."""
        return isinstance(operation, Move) and operation.wire not in self.before.wire_index

    def _rank(self, operation: Operation) -> tuple[int, str, int]:
        place = self._place_of(operation)
        late = 1 if isinstance(operation, Add) else 0
        if isinstance(operation, Insert) and operation.wire not in self.before.wire_index:
            late = 2  # the wire has to be made first
        # A part that the job does not name (a relay that a remedy fits) is there before any end goes to it.
        elsewhere = -1 if isinstance(operation, Fit) else len(self._places)
        at = self._places.get(place, elsewhere)
        if isinstance(operation, ChangeSupply):
            at = -2  # whatever is done after it is done with the battery off
        elif place in self._batteries:  # out at once, and on again when all else is done
            at = -1 if isinstance(operation, Remove) else 3 * len(self._places) + 3
        # Elsewhere one place after the other too; what is added there comes at the end as before.
        beside = "" if place in self._places or late or isinstance(operation, Fit) else place
        return (at + late * (len(self._places) + 1), beside, _ORDER.index(operation.do))

    @staticmethod
    def _place_of(operation: Operation) -> str:
        """The first place an operation works at; the place a wire goes to if it came from none."""
        places = [split_address(address)[0] for address in operation.addresses]
        return next((place for place in places if place not in ("loose", "unknown")), "loose")

    # -- steps ---------------------------------------------------------------------------------------------

    def steps(self) -> tuple[PlanStep, ...]:
        """The numbered work list."""
        out = []
        for number, (step, made) in enumerate(self._kept, 1):
            reasons = [step.why] + ([made.why] if made else []) + self._reasons_for_ends(step.operation)
            operations = [step.operation] + ([made.operation] if made else [])
            operations += self._stays.get(step.operation.at, []) if isinstance(step.operation, Fit) else []
            out.append(
                PlanStep(
                    n=number,
                    do=step.operation.do,
                    fields=self._fields(step.operation),
                    text=self._text(step.operation) + self._warning(step),
                    because=tuple(dict.fromkeys(reason.rule for reason in reasons)),
                    facts=tuple(dict.fromkeys(fact for reason in reasons for fact in reason.facts)),
                    source="; ".join(dict.fromkeys(reason.source for reason in reasons)),
                    reversible=not isinstance(step.operation, Cut | ReEnd),
                    minutes=round(minutes(operations, self.after, self.catalogue, self.job.minutes), 1),
                )
            )
        return tuple(out)

    def _reasons_for_ends(self, operation: Operation) -> list[Reason]:
        """Why the ends of a new wire are not where it was drafted first."""
        if isinstance(operation, Add | Insert):
            return self._moved.get(
                (operation.wire if isinstance(operation, Add) else operation.lead).wire, []
            )
        return []

    def _wire(self, name: str) -> Wire:
        loom = self.after if name in self.after.wire_index else self.before
        return loom.find(name)

    def _shown(self, wire: str) -> str:
        return self._names.get(wire, wire)

    def _seen(self, wire: str, end: int) -> dict[str, Any]:
        """What the contract says of a wire: colour, size and length of the leg at one end."""
        record = self._wire(wire)
        end = min(end, len(record.ends) - 1)
        leg = max(0, end - 1)
        return {
            "colour": record.end_colour(end),
            "mm2": record.end_mm2(end),
            "metres": record.leg_metres(leg),
        }

    def _fields(self, operation: Operation) -> Mapping[str, Any]:
        if isinstance(operation, ChangeSupply):
            return {"volts": operation.supply.volts, "earthed": operation.supply.earthed}
        if isinstance(operation, Remove | Fit):
            return {"at": operation.at, "part": operation.place.part}
        if isinstance(operation, Move):
            return {
                "wire": self._shown(operation.wire),
                "from": operation.was,
                "to": operation.to,
                **self._seen(operation.wire, operation.end),
            }
        if isinstance(operation, Add):
            wire = self._wire(operation.wire.wire)
            make = self._made.get(wire.wire)
            return {
                "wire": self._shown(wire.wire),
                "from": wire.ends[0].at,
                "to": wire.ends[-1].at,
                "colour": wire.leg_colour(0),
                "mm2": wire.leg_mm2(0),
                "metres": wire.leg_metres(0),
                "fittings": [end.fitting for end in wire.ends],
                "from_stock": isinstance(make, Make) and make.lead is not None,
                "tagged": operation.tagged,
                **({"bundle": wire.bundle} if wire.bundle else {}),
            }
        if isinstance(operation, Join):
            return {"wires": [self._shown(w) for w, _, _ in operation.ends], "at": operation.joint}
        if isinstance(operation, Piggyback):
            return {"at": operation.at}
        if isinstance(operation, Insert):
            return {
                "wire": self._shown(operation.wire),
                "part": operation.place.part,
                "at": operation.was,
                "lead": self._shown(operation.lead.wire),
                **self._seen(operation.wire, operation.end),
            }
        if isinstance(operation, Cover) and operation.wire is None:
            return {"at": operation.at}
        if isinstance(operation, ChangeFuse):
            return {
                "at": operation.at,
                "amps": operation.amps,
                "old_amps": self._first_fuses[operation.at].printed,
            }
        if isinstance(operation, Renew):
            return self._renewed(operation)
        assert isinstance(operation, Cover | Cut | ReEnd | Extend | Hold)
        at = operation.was if isinstance(operation, Cut) else operation.at
        fields: dict[str, Any] = {"wire": self._shown(str(operation.wire)), "at": at}
        if isinstance(operation, ReEnd):
            fields |= {"fitting": operation.fitting, "old_fitting": operation.old}
        if isinstance(operation, Extend):
            fields["by_metres"] = operation.metres
        return fields | self._seen(str(operation.wire), operation.end or 0)

    def _renewed(self, operation: Renew) -> dict[str, Any]:
        wire, ends = self._wire(operation.wire), (operation.first, operation.last)
        legs = range(operation.first, operation.last)
        return {
            "wire": self._shown(operation.wire),
            "from": wire.ends[operation.first].at,
            "to": wire.ends[operation.last].at,
            "colour": wire.leg_colour(operation.first),
            "mm2": operation.mm2,
            "old_mm2": [(operation.old * len(wire.ends))[leg] for leg in legs],
            "metres": round(sum(wire.leg_metres(leg) for leg in legs), 2),
            "fittings": [wire.ends[n].fitting or self._usual_end(wire.ends[n].at) for n in ends],
        }

    def _usual_end(self, address: str) -> str | None:
        place, mark = split_address(address)
        fitted = self.after.places.get(place)
        terminal = self.catalogue.parts[fitted.part].terminals.get(mark) if fitted else None
        return terminal.usual_end if terminal else None

    def _named(self, wire: str, end: int) -> str:
        record = self._wire(wire)
        colour = colour_words(record.end_colour(min(end, len(record.ends) - 1)))
        return f"the {colour} wire ({self._shown(wire)})"

    def _at(self, address: str) -> str:
        place = split_address(address)[0]
        return address_words(self.after if place in self.after.places else self.before, address)

    def _text(self, operation: Operation) -> str:
        title = self.after.place_title
        if isinstance(operation, ChangeSupply):
            return (
                f"Take the battery off: the vehicle becomes {operation.supply.words} (it was "
                f"{operation.old.words}). The battery goes on when every step is done, earthed post last; "
                "tag its place so"
            )
        if isinstance(operation, Remove):
            part = self.catalogue.parts[operation.place.part].title
            return f"Take out the {self.before.place_title(operation.at)}: {small(part)}"
        if isinstance(operation, Fit):
            part = self.catalogue.parts[operation.place.part].title
            how = "" if operation.place.mounting == "metal" else f" ({operation.place.mounting} mounting)"
            if operation.over is not None and operation.over.part != operation.place.part:
                how = f" in place of {small(self.catalogue.parts[operation.over.part].title)}{how}"
            stay = self._staying(operation.at)
            same = f"; on the same terminals: {stay}" if stay else ""
            is_known = operation.at in self._places or operation.at in self.before.places
            where = "at" if is_known else "as"  # a place of the plan's own is what sits there
            return f"Fit {where} {title(operation.at)}: {small(part)}{how}{same}"
        if isinstance(operation, Move):
            here = split_address(operation.was)[0] == split_address(operation.to)[0]
            to = mark_words(split_address(operation.to)[1]) if here else self._at(operation.to)
            return f"Move {self._named(operation.wire, operation.end)} from {self._at(operation.was)} to {to}"
        if isinstance(operation, Add):
            fields = self._fields(operation)
            ends = " and ".join(_end_words(f) for f in fields["fittings"])
            made = "Use the finished lead" if fields["from_stock"] else "Make"
            tag = "; tag it for removal" if operation.tagged else ""
            beside = f", with the bundle {fields['bundle']!r}" if "bundle" in fields else ""
            return (
                f"{made} {fields['wire']}: {colour_words(fields['colour'])}, {fields['mm2']:g} mm2, "
                f"{fields['metres']:g} m, {ends}, "
                f"from {self._at(fields['from'])} to {self._at(fields['to'])}{beside}{tag}"
            )
        if isinstance(operation, Cover):
            if operation.wire is None:
                return f"Cover the bare terminal {self._at(operation.at)}"
            return (
                f"Insulate and tie back {self._named(operation.wire, operation.end or 0)} that was on "
                f"{self._at(operation.at)}; tag it"
            )
        if isinstance(operation, Cut):
            return f"Cut {self._named(operation.wire, operation.end)} back from {self._at(operation.was)}"
        if isinstance(operation, Piggyback):
            return f"Fit a piggyback push-on terminal on {self._at(operation.at)}"
        if isinstance(operation, Join):
            ends = " and ".join(self._named(w, n) for w, n, _ in operation.ends)
            return f"Join {ends} in an insulated joiner"
        if isinstance(operation, ReEnd):
            new = _end_words(operation.fitting)
            return (
                f"Re-end {self._named(operation.wire, operation.end)} with {new} for {self._at(operation.at)}"
            )
        if isinstance(operation, Extend):
            return f"Lengthen {self._named(operation.wire, operation.end)} by {operation.metres:g} m"
        if isinstance(operation, Insert):
            part = self.catalogue.parts[operation.place.part].title
            named = self._named(operation.wire, operation.end)
            text = f"Put {_with_article(small(part))} into {named} at {self._at(operation.was)}"
            return text + self._way_round(operation)
        if isinstance(operation, ChangeFuse):
            printed = self._first_fuses[operation.at].printed
            if printed is None:
                place = self.after.place_title(split_address(operation.at)[0])
                return f"Put a fuse of {operation.amps:g} A into the holder: {place}"
            old = f"in place of the one of {printed:g} A"
            return f"Put a fuse of {operation.amps:g} A in for {self._at(operation.at)}, {old}"
        if isinstance(operation, Renew):
            fields = self._renewed(operation)
            word = self._wire(operation.wire).insulation or self.before.insulation or USUAL_INSULATION
            kind = "" if word == USUAL_INSULATION else f", insulated with {word} or better"
            ends = " and ".join(_end_words(f) for f in fields["fittings"])
            return (
                f"Lay a thicker wire in place of {self._named(operation.wire, operation.first)} from "
                f"{self._at(fields['from'])} to {self._at(fields['to'])}: {colour_words(fields['colour'])}, "
                f"{fields['mm2']:g} mm2 for {_sizes(fields['old_mm2'])}{kind}, {fields['metres']:g} m, "
                f"{ends}; draw the old one out, or tie both its ends back and tag them"
            )
        assert isinstance(operation, Hold)
        held = self._named(operation.wire, operation.end)
        return f"Take {held} off {self._at(operation.at)}, insulate it and keep it aside"

    def _way_round(self, operation: Insert) -> str:
        """Which side of a part in line faces which way, where current passes it one way only."""
        to = self._wire(operation.lead.wire).ends[-1].at
        _, leaves = split_address(operation.lead.ends[0].at)
        part = self.catalogue.parts[operation.place.part]
        if any(isinstance(element, Diode | Led | Stabiliser) for element in part.inside):
            earthed = any(terminal.by == "mounting" for terminal in part.terminals.values())
            metal = "; screwed to bare metal" if earthed else ""
            return f"; the wire on {operation.enters}, its lead from {leaves} to {self._at(to)}{metal}"
        return "" if to == operation.was else f"; its lead goes to {self._at(to)}"

    def _warning(self, step: Step) -> str:
        """What must be known of an end that is tied back."""
        operation = step.operation
        if not isinstance(operation, Cover) or operation.wire is None:
            return ""
        if step.why.rule == _UNKNOWN_COVER:
            return "; what it is is not known: TREAT IT AS LIVE"
        if step.why.rule not in _LIVE_COVERS:
            return ""
        if not is_fed(self.after, operation.wire):
            return "; nothing feeds it any more: what it leads to is tied back as well"
        legs = len(self._wire(operation.wire).ends) > 2
        return "; IT STAYS LIVE" + (
            ", and its legs stay together: what lies beyond is fed through them" if legs else ""
        )

    def _staying(self, place: str) -> str:
        """The ends that go on the same mark as before, each with its colour."""
        return ", ".join(
            f"{colour_words(self.after.find(wire).end_colour(number))} ({wire}) on {mark}"
            for wire, number, mark in self.after.ends_of_place(place)
            if wire in self.before.wire_index
            and number < len(self.before.find(wire).ends)
            and self.before.find(wire).ends[number].at == f"{place}:{mark}"
        )

    # -- cards ---------------------------------------------------------------------------------------------

    def cards(self, steps: Sequence[PlanStep]) -> tuple[Card, ...]:
        """One card for each part that is fitted or removed: in the job's order, then those of remedies."""
        return tuple(self._card(place, steps) for place in self._places)

    def _card(self, place: str, steps: Sequence[PlanStep]) -> Card:
        old, new = self.before.places.get(place), self.after.places.get(place)
        parts = self.catalogue.parts
        rows = list(self._rows_on(place, steps)) if new else []
        rows += self._rows_off(place, steps)
        return Card(
            at=place,
            title=self.after.place_title(place) if new else self.before.place_title(place),
            old_part=parts[old.part].title if old else "",
            new_part=parts[new.part].title if new else "",
            mounting=new.mounting if new else "",
            rows=tuple(rows),
        )

    def _rows_on(self, place: str, steps: Sequence[PlanStep]) -> Iterator[CardRow]:
        part = self.catalogue.parts[self.after.places[place].part]
        for mark, terminal in part.terminals.items():
            address = f"{place}:{mark}"
            shown = mark if terminal.stamped else f"({mark}, nothing stamped)"
            ends = self.after.ends_at.get(address, ())
            for wire, number in ends:
                was = self._was(wire, number)
                stays = was == address
                came = "new wire" if was is None else self._short(was, place)
                yield CardRow(
                    shown,
                    colour_words(self.after.find(wire).end_colour(number)),
                    self._shown(wire),
                    came,
                    f"{mark} (stays)" if stays else mark,
                    not stays,
                    self._steps_about(steps, wire, place),
                )
            if not ends and terminal.by == "wire":
                covered = address in self.after.covered
                goes = "cover" if covered else "stays empty"
                about = tuple(
                    s.n
                    for s in steps
                    if s.do == "cover" and s.fields.get("at") == address and "wire" not in s.fields
                )
                yield CardRow(shown, "", "", "", goes, covered, about)
            elif not ends and terminal.by == "mounting":
                earths = self.after.places[place].mounting
                found = {
                    "metal": "earth, through its mounting",
                    "doubtful": "earth through its mounting: doubtful",
                }.get(earths, "not earthed")
                yield CardRow(shown, "", "", "", found, False)

    def _rows_off(self, place: str, steps: Sequence[PlanStep]) -> Iterator[CardRow]:
        for wire, number, mark in self.before.ends_of_place(place):
            here = self._number_after(wire, number)
            end = None if here is None else self.after.find(wire).ends[here]
            if end is not None and split_address(end.at)[0] == place:
                continue
            if end is None:
                now_words = "cut back"
            elif end.at == "loose":
                now_words = "tied back, insulated" if end.covered else "loose"
            else:
                now_words = self._at(end.at)
            colour = colour_words(self._wire(wire).end_colour(min(number, len(self._wire(wire).ends) - 1)))
            yield CardRow("-", colour, wire, mark, now_words, True, self._steps_about(steps, wire, place))

    def _number_after(self, wire: str, number: int) -> int | None:
        """The number of an end when everything is done; None if it was cut off."""
        cuts = sorted(cut.end for cut in self._cuts if cut.wire == wire)
        return None if number in cuts else number - sum(1 for cut in cuts if cut < number)

    def _steps_about(self, steps: Sequence[PlanStep], wire: str, place: str) -> tuple[int, ...]:
        """The steps that handle a wire at a place."""
        shown, here = self._shown(wire), f"{place}:"
        return tuple(
            step.n
            for step in steps
            if shown in (step.fields.get("wire"), *step.fields.get("wires", ()))
            and (
                step.do == "join"
                or any(str(step.fields.get(key, "")).startswith(here) for key in ("at", "from", "to"))
            )
        )

    def _was(self, wire: str, number: int) -> str | None:
        if wire not in self.before.wire_index:
            return None
        ends = self.before.find(wire).ends
        return ends[number].at if number < len(ends) else None

    def _short(self, address: str, place: str) -> str:
        head, mark = split_address(address)
        return mark if head == place else self._at(address)


_Pair = tuple[Step, Step | None]


def _moves_in_turn(pairs: list[_Pair]) -> list[_Pair]:
    """The same steps, each move after the move that frees its terminal; an end that is held goes on last."""
    held = {(s.operation.wire, s.operation.end) for s, _ in pairs if isinstance(s.operation, Hold)}
    moves = [(pair, pair[0].operation) for pair in pairs if isinstance(pair[0].operation, Move)]
    leaving = {move.was: (pair, move) for pair, move in moves if (move.wire, move.end) not in held}
    ordered: list[_Pair] = []

    def put(pair: _Pair, move: Move, waiting: tuple[str, ...]) -> None:
        if pair in ordered or move.to in waiting:
            return
        first = leaving.get(move.to)
        if first is not None and first[0] is not pair:
            put(*first, (*waiting, move.to))
        ordered.append(pair)

    for pair, move in sorted(moves, key=lambda m: (m[1].wire, m[1].end) in held):
        put(pair, move, ())
    turn = iter(ordered)
    return [next(turn) if isinstance(pair[0].operation, Move) else pair for pair in pairs]


def _end_words(fitting: str | None) -> str:
    """The end of a new wire as people say it."""
    return fitting_words(fitting) if fitting else "an end to suit"


def _sizes(mm2: Sequence[float]) -> str:
    """The sizes that a thicker wire takes the place of: ``1 and 1.5``."""
    return " and ".join(f"{size:g}" for size in sorted(set(mm2)))


def _with_article(noun: str) -> str:
    return f"{'an' if noun[:1] in 'aeiou' else 'a'} {noun}"
