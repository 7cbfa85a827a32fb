"""A card for each part that is fitted or taken out: its terminals, and what becomes of each end."""

from collections.abc import Iterator, Sequence

from planner.model.loom import split_address
from planner.model.plan import Card, CardRow, PlanStep
from planner.model.wording import colour_words
from planner.workshop.ends.names import Names


class Cards:
    """The cards of one work."""

    def __init__(self, names: Names, steps: Sequence[PlanStep]) -> None:
        self.names, self.steps = names, steps
        self.before, self.after = names.before, names.after
        self.catalogue = names.catalogue

    def all(self) -> tuple[Card, ...]:
        """One card for each part that is fitted or removed: in the job's order, then those of remedies."""
        return tuple(self._card(place) for place in self.names.work.swapped)

    def _card(self, place: str) -> Card:
        old, new = self.before.places.get(place), self.after.places.get(place)
        parts = self.catalogue.parts
        rows = list(self._rows_on(place)) if new else []
        rows += self._rows_off(place)
        return Card(
            at=place,
            title=self.after.place_title(place) if new else self.before.place_title(place),
            old_part=parts[old.part].title if old else "",
            new_part=parts[new.part].title if new else "",
            mounting=new.mounting if new else "",
            rows=tuple(rows),
        )

    def _rows_on(self, place: str) -> Iterator[CardRow]:
        part = self.catalogue.parts[self.after.places[place].part]
        for mark, terminal in part.terminals.items():
            address = f"{place}:{mark}"
            shown = mark if terminal.stamped else f"({mark}, nothing stamped)"
            ends = self.after.ends_at.get(address, ())
            for wire, number in ends:
                was = self.before.end_address(wire, number)
                stays = was == address
                came = "new wire" if was is None else self._short(was, place)
                yield CardRow(
                    shown,
                    colour_words(self.after.find(wire).end_colour(number)),
                    self.names.shown(wire),
                    came,
                    f"{mark} (stays)" if stays else mark,
                    not stays,
                    self._steps_about(wire, place),
                )
            if not ends and terminal.by == "wire":
                covered = address in self.after.covered
                goes = "cover" if covered else "stays empty"
                about = tuple(
                    s.n
                    for s in self.steps
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

    def _rows_off(self, place: str) -> Iterator[CardRow]:
        for wire, number, mark in self.before.ends_of_place(place):
            end = self.after.find(wire).ends[number]
            if split_address(end.at)[0] == place:
                continue
            if end.at == "loose":
                now_words = "tied back, insulated" if end.covered else "loose"
            else:
                now_words = self.names.at(end.at)
            colour = colour_words(
                self.names.wire(wire).end_colour(min(number, len(self.names.wire(wire).ends) - 1))
            )
            yield CardRow("-", colour, wire, mark, now_words, True, self._steps_about(wire, place))

    def _steps_about(self, wire: str, place: str) -> tuple[int, ...]:
        """The steps that handle a wire at a place."""
        shown, here = self.names.shown(wire), f"{place}:"
        return tuple(
            step.n
            for step in self.steps
            if shown in (step.fields.get("wire"), *step.fields.get("wires", ()))
            and (
                step.do == "join"
                or any(str(step.fields.get(key, "")).startswith(here) for key in ("at", "from", "to"))
            )
        )

    def _short(self, address: str, place: str) -> str:
        head, mark = split_address(address)
        return mark if head == place else self.names.at(address)
