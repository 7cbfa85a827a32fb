"""The plan leans on something that is only assumed: one reading settles it.

What it looks for
A wire end on which the settled plan leans and whose place or nature nobody has seen or measured; a place of
which it is only assumed what is fitted there, and a free terminal of it that a new wire goes to.

Why it matters
A plan that leans on a guess is not finished. The reading is taken before anything is moved, and each answer
says what to do. Of two wires on one feed terminal, one may carry everything else onward.

Before
Two brown wires on the feed terminal of the lighting switch, neither measured.

After
Both off, the meter from each to bare metal: battery volts on one only makes that one the feed and the other
the onward feed; volts on both means two feeds.

Limits
One reading a wire, where the job works on it, or one for all ends that share a terminal, also one whose
other end nobody has seen. What the answers
say about the conductor comes from the loom as it was drawn, which is what the reading checks. A doubtful
mounting has its own rule.

Source
common practice, no source
"""

from collections.abc import Iterator, Sequence

from planner.engine.case import Case
from planner.model.delta import Reason
from planner.model.facts import ConductorFact
from planner.model.loom import split_address
from planner.model.need import Emission, LeansOn, Question
from planner.model.wording import address_words, small

Answers = tuple[tuple[str, str], ...]
KEY_OFF = "supply on, ignition off and every switch off, meter on 20 V DC or the next range above the supply"


def propose(case: Case) -> Iterator[Emission]:
    """Yield one question for an end, for all ends of its terminal, or for a place."""
    need = case.need
    if not isinstance(need, LeansOn):
        return
    if need.wire is None or need.end is None:
        yield from _about_place(case, need.at)
        return
    if need.wire not in case.before.wire_index or case.reading_end(need.wire) != need.end:
        return
    was = case.before.find(need.wire).ends[need.end].at
    together = case.before.ends_at.get(was, ()) if split_address(was)[0] in case.before.places else ()
    together = together if len(together) > 1 else ((need.wire, need.end),)
    wires = " and ".join(case.old_end(wire, number) for wire, number in together)
    volts = f"about {case.before.supply.volts:g} V"
    fact, fed = case.facts.at(was), [case.is_fed_from_afar(*one) for one in together]
    if len(together) > 1:
        unseen = [case.old_end(*one) for one in together if _is_unseen(case, one[0])]
        how, answers = _readings_apart(volts, any(fed), unseen)
    else:
        how, answers = _reading(fact, volts)
    is_volts = len(together) > 1 or volts in answers[0][0]
    meter = "voltmeter" if is_volts else "ohmmeter"
    at = address_words(case.before, was)
    # What gets its feed through the part itself reads nothing once it is off.
    is_at_part = split_address(was)[0] in case.before.places
    is_through_part = is_at_part and fact.live != "never" and not any(fed) and len(together) == 1
    on_or_off = f"left on {at}" if case.is_switched_at(was) or is_through_part else f"taken off {at}"
    yield Question(
        about=f"what {'is' if len(together) == 1 else 'are'} {wires}, "
        + ("which hangs loose?" if was == "loose" else f"on {at}?"),
        where=f"{meter} from {wires} to bare metal of the body"
        + ("" if was == "loose" else f", {on_or_off}"),
        how=how,
        answers=answers,
        why=Reason("leans-on-assumed-fact", (f"{wires}: only assumed, not measured",), leans_on=together),
    )


def _about_place(case: Case, at: str) -> Iterator[Question]:
    """Ask what is fitted at a place, or what a free terminal of it is."""
    if ":" in at:
        terminal, fact = address_words(case.before, at), case.facts.at(at)
        how, answers = _reading(fact, f"about {case.before.supply.volts:g} V")
        meter = "voltmeter" if fact.live != "never" else "ohmmeter"
        why = Reason("leans-on-assumed-fact", (f"what {terminal} is, is only assumed",))
        yield Question(f"what is {terminal}?", f"{meter} from {terminal} to bare metal", how, answers, why)
        return
    place = case.before.places.get(at) or case.loom.places.get(at)
    if place is None or place.mounting == "doubtful":
        return
    title, part = case.loom.place_title(at), case.catalogue.parts[place.part].title
    yield Question(
        about=f"is the {title} really this part: {small(part)}?",
        where=f"the marks of the {title}, then an ohmmeter between its terminals",
        how="earthed pole of the battery off; compare the contact table with the part's page",
        answers=(
            ("marks and table agree", "the plan stands"),
            ("they differ", "enter the part that is there and plan again"),
        ),
        why=Reason("leans-on-assumed-fact", (f"what is fitted at the {title} is only assumed",)),
    )


def _is_unseen(case: Case, wire: str) -> bool:
    return any(end.at == "unknown" for end in case.before.find(wire).ends)


def _readings_apart(volts: str, is_any_fed: bool, unseen: Sequence[str]) -> tuple[str, Answers]:
    """How to read wires that share a terminal, and what each answer means; the expected one first."""
    how = f"each wire by itself, the others off and insulated; {KEY_OFF}, then ignition on"
    answers: list[tuple[str, str]] = [
        (
            f"{volts} on one wire only",
            "that wire is the feed, the others carry it onward: keep them joined",
        ),
        (
            f"{volts} on more than one",
            "they are separate feeds: never join them; enter them so and plan again",
        ),
        ("nothing on any", "none is a feed: enter them so and plan again"),
    ]
    if not is_any_fed:
        answers = [
            ("nothing on any", "they carry onward what the part feeds, as assumed: keep them joined"),
            (
                f"{volts} on one or more",
                "live from the far end, a feed of its own: never join it with another; enter it so and plan "
                "again",
            ),
        ]
    for wire in unseen:
        means = "ohms from it to the terminals it may reach, battery off: enter where it ends and plan again"
        answers.append((f"nothing on {wire}, whose other end nobody has seen", means))
    return how, tuple(answers)


def _reading(fact: ConductorFact, volts: str) -> tuple[str, Answers]:
    """How to take the reading, and what each answer means; the expected one first."""
    if fact.live != "never":
        expected = {
            "always-live": ("ignition off too", "an always-live feed, as assumed: the plan stands"),
            "ignition-live": ("ignition on only", "an ignition-switched feed, as assumed: the plan stands"),
        }
        when, means = expected.get(
            fact.nature, (fact.when or "in those settings", "as assumed: the plan stands")
        )
        return f"{KEY_OFF}; then ignition on; then with the settings that should make it live", (
            (f"{volts}: {when}", means),
            (f"{volts} otherwise", "another kind of feed than assumed: enter it so and plan again"),
            ("nothing in any setting", "not a feed, or broken: do not move it before it is traced"),
        )
    stands = "as assumed: the plan stands"
    expected_ohms = {
        "earth": ("under 1 ohm", f"goes to earth, {stands}"),
        "switched-earth": (f"under 1 ohm {fact.when}".strip(), f"goes to earth through a switch, {stands}"),
        "load": (
            "a few ohms to some tens",
            f"goes to {fact.loads[0][1] if fact.loads else 'a load'}, {stands}",
        ),
    }
    expected_one = expected_ohms.get(
        fact.nature, ("no reading in any setting", f"goes nowhere live, {stands}")
    )
    return (
        "earthed pole of the battery off, lowest ohms range; step through the settings that could matter",
        (
            expected_one,
            ("anything else", "another conductor than assumed: trace it, enter it and plan again"),
        ),
    )
