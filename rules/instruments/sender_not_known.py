"""Whether a new gauge suits its sender is measured where nobody has seen the sender.

What it looks for
A fitted gauge with marks on its face whose sender is not in the loom, or is only assumed to be the part
that is drawn.

Why it matters
Senders are changed over the years and look alike. The ohms at full and empty settle it in a minute; a wrong
gauge is noticed when the vehicle stands by the road.

Before
A new gauge; the wire to the tank leaves the loom.

After
A reading at the sender's terminal, with what each range of the catalogue would show.

Limits
Where the gauge's wire leads to parts that are all known and none is a sender, such as a switch for a warning
lamp, there is nothing to measure: that is said instead. It asks, nothing more. The ranges named are those of
the catalogue; another may be found.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.instruments import others_in_place_of_sender, sender_of
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.elements import Gauge
from planner.model.gauges import belong_together, gauges_of, senders_of
from planner.model.need import Emission, Fitted, Question, Remark
from planner.model.part import Part
from planner.model.wording import small


def propose(case: Case) -> Iterator[Emission]:
    """Yield the reading that settles whether gauge and sender belong together."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fitted) else None
    if part is None or not isinstance(need, Fitted):
        return
    for gauge in gauges_of(part):
        place = sender_of(case, need.at, gauge)
        if place is not None and case.loom.places[place].known != "assumed":
            continue
        if place is None and (instead := others_in_place_of_sender(case, need.at, gauge)):
            others = tr(" and ").join(tr("the {place}", place=case.loom.place_title(p)) for p in instead)
            text = tr(
                "the {gauge} has no sender: its wire leads to {others}. Without the sender of its range it "
                "shows nothing but an end of its scale",
                gauge=gauge.does,
                others=others,
            )
            fact = f"{others} is on its wire, and no sender"
            yield Remark(text, Reason("sender-not-known", (fact,)))
            continue
        where = tr("the {place}", place=case.loom.place_title(place)) if place else tr("the sender")
        answers = tuple(_answers(case, gauge, part))
        fact = f"{where} is only assumed" if place else "its sender is not in this loom"
        yield Question(
            tr("which ohms the sender of the {gauge} has", gauge=gauge.does),
            tr("ohmmeter between the terminal of {sender}, its wire off, and the body", sender=where),
            _how(gauge),
            (
                *answers,
                (
                    tr("anything else"),
                    tr("it does not suit the {gauge}: find out which gauge it had", gauge=small(part.title)),
                ),
            ),
            Reason("sender-not-known", (fact,)),
        )


def _how(gauge: Gauge) -> str:
    """How to bring a sender to both ends of what a gauge shows: of a tank, of an engine's oil or water."""
    if "full" in gauge.marks:
        return tr("ignition off; once with it full and once empty, or the float arm moved by hand")
    if "cold" in gauge.marks:
        return tr("once with the engine cold and once with it hot, ignition off each time")
    return tr("once with the engine stopped and once at a fast idle, the wire kept off all the time")


def _answers(case: Case, gauge: Gauge, part: Part) -> Iterator[tuple[str, str]]:
    """Yield for each sender of the catalogue that knows the gauge's states what its ohms mean."""
    states = sorted(gauge.marks, key=lambda state: gauge.marks[state])
    for other in sorted(case.catalogue.with_element("sender"), key=lambda p: p.part):
        for sender in senders_of(other):
            if not {states[0], states[-1]} <= set(sender.ohms):
                continue
            last, first = (
                f"with oil pressure {state}" if sender.follows == "oil pressure" else state
                for state in (states[-1], states[0])
            )
            ohms = tr(
                "about {last_ohms:g} ohms {last} and about {first_ohms:g} ohms {first}",
                last_ohms=sender.ohms[states[-1]],
                last=last,
                first_ohms=sender.ohms[states[0]],
                first=first,
            )
            title = small(part.title)
            if belong_together(gauge, part, sender):
                yield ohms, tr("it suits the {gauge}", gauge=title)
            else:
                yield ohms, tr("it does not suit the {gauge}", gauge=title)
