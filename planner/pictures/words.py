"""Titles of pictures, what they say to one who cannot see them, and the lines below them."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from planner.messages import later, tr, tr_count
from planner.model.picture import PictureWhen
from planner.model.wording import address_words, colour_words, run_words
from planner.pictures.extents import Extent
from planner.pictures.graph import Graph, When
from planner.pictures.text import clean
from planner.pictures.union import Looms

_LEGEND = later(
    "A wire: its number, colour code, size in mm². Heavy with bars across: something happens to it, said "
    "below it. Grey, in a heavy black frame: a part comes out or is new."
)
_TITLES: Mapping[PictureWhen, str] = MappingProxyType(
    {
        "before": later("Before the work, circuit {n}: {title}"),
        "after": later("After the work, circuit {n}: {title}"),
        "both": later("Wires alike before and after the work, circuit {n}: {title}"),
    }
)


def title_of(looms: Looms, place: str) -> str:
    """What people call a place of either loom."""
    return (looms.after if place in looms.after.places else looms.before).place_title(place)


def circuit_title(looms: Looms, all_: Sequence[Extent], number: int, when: PictureWhen) -> str:
    """The title of the picture of a circuit."""
    extent = all_[number]
    about = tr(" and ").join(title_of(looms, place) for place in extent.places) or tr("wires elsewhere")
    pieces = [n for n, other in enumerate(all_) if other.places == extent.places]
    if len(pieces) > 1:
        n = pieces.index(number) + 1
        about = tr("{circuit}, part {n} of {count}", circuit=about, n=n, count=len(pieces))
    return clean(tr(_TITLES[when]).format(n=number + 1, title=about), 200)


def circuit_words(looms: Looms, graph: Graph, when: When) -> str:
    """Every wire of a picture, its ends, and what happens to it."""
    sentences = []

    def at(address: str) -> str:
        return address_words(looms.of(when), address, looms.shown)

    for wire in dict.fromkeys(leg.wire for leg in graph.legs if leg.look(when)):
        record = looms.of(when).find(wire)
        legs = [leg for leg in graph.legs if leg.wire == wire and leg.look(when)]
        notes = dict.fromkeys(note for leg in legs if (look := leg.look(when)) for note in look.notes)
        ends = tr(" to ").join(at(end.at) for end in record.ends)
        said = f" ({'; '.join(notes)})" if notes else ""
        sentences.append(f"{legs[0].shown}, {colour_words(record.end_colour(0))}: {ends}{said}.")
    return clean(" ".join(sentences), 4000)


def circuit_foot(looms: Looms, all_: Sequence[Extent], number: int) -> tuple[str, ...]:
    """The lines below a picture: how it is read, and where what it leaves out is drawn."""
    wires = set(all_[number].wires)
    for place in all_[number].places:  # its other wires may be drawn with another place
        for loom in (looms.before, looms.after):
            wires |= {wire for wire, _, _ in loom.ends_of_place(place)}
    others = [n for n, other in enumerate(all_, 1) if n != number + 1 and wires & set(other.wires)]
    if not others:
        return (tr(_LEGEND),)
    goes_on = tr_count(
        "Goes on in circuit {which}.", "Goes on in circuits {which}.", len(others), which=run_words(others)
    )
    return tr(_LEGEND), goes_on
