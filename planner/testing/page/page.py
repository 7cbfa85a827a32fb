"""The meter page of one work: which tests there are, and in which order."""

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

from planner.messages import later, tr
from planner.model.meter_page import MeterPage
from planner.model.plan import BehaviourLine
from planner.model.wording import appearance_words
from planner.testing.page.candidates import Candidates, put_in_order
from planner.testing.page.choosing import choose, moved, place
from planner.testing.page.circuits import no_longer, own_loads
from planner.testing.page.cold_lamps import ColdLamps
from planner.testing.page.confirming import Confirmer
from planner.testing.page.cranking import Cranking
from planner.testing.page.exposure import Exposure
from planner.testing.page.failing import FAILS
from planner.testing.page.fields import field_probes
from planner.testing.page.fixings import fixing_probes, under_load_probes
from planner.testing.page.gained import gained_probes
from planner.testing.page.ground import SLIPS, TWINS, Ground
from planner.testing.page.notes import notes
from planner.testing.page.on_and_off import Offs, is_flash, of_load, on_probes, telling
from planner.testing.page.probes import Probe
from planner.testing.page.records import Records
from planner.testing.page.senders import sender_probes
from planner.testing.page.short_of_pulling import ShortOfPulling
from planner.testing.page.stabilised import Stabilised
from planner.testing.page.steps import StepsOf
from planner.testing.page.wording import NO_VOLTS, Wording

_WARNING_LAMP = "warning-lamp"  # a family
_NO_LONGER: Mapping[str, str] = MappingProxyType(
    {
        "lost": later("lost: '{does}' ({place}) is {now}, was {was}"),
        "changed": later("changed: '{does}' ({place}) is {now}, was {was}"),
        "unintended": later("unintended: '{does}' ({place}) is {now}, was {was}"),
    }
)


def meter_page(ground: Ground, behaviours: Sequence[BehaviourLine], steps: StepsOf) -> MeterPage:
    """All tests of one work, in their order."""
    if not ground.wired.touched_ends:
        return MeterPage((), ())
    mistakes = {mistake.id: mistake for mistake in ground.mistakes(SLIPS)}
    candidates = Candidates(ground)
    offs = [list(Offs(ground, candidates).of(key)) for key in own_loads(ground.wired, ground.seen.survey)]
    must = list(_must(ground, candidates, behaviours))
    must += gained_probes(ground, behaviours, candidates.on, must)
    asked = [*must, *(probe for own in offs for probe in own), *candidates.probes()]
    asked = list(filter(ground.can_be_read, asked))
    exposure = ground.exposer.expose(asked, list(mistakes.values()), ground.failures(FAILS))
    must = [probe for probe in (*must, *telling(offs, exposure)) if probe in exposure.good]
    confirmer = Confirmer(ground.exposer, exposure)
    cranking = frozenset(filter(Cranking(ground).turns, candidates.setups))
    twins = frozenset(name for name, mistake in mistakes.items() if mistake.kind == TWINS)

    def choosing(shown: Mapping[Probe, frozenset[str]]) -> list[Probe]:
        """Choose for what does harm: no reading is taken for the sake of twins alone."""
        return choose({probe: own - twins for probe, own in shown.items()}, must, cranking)

    chosen = list(confirmer.choose(choosing))
    exposure = confirmer.exposure
    off = frozenset(probe for own in offs for probe in own)
    chosen = [probe for probe in chosen if exposure.wrong[probe] or probe not in off]
    chosen += _one_at_each_place(ground, exposure, chosen)
    ordered = put_in_order(ground, chosen)
    missed = set(mistakes) - frozenset().union(*(exposure.shown(probe) for probe in ordered))
    short = ShortOfPulling(ground, mistakes)
    missed -= {name for probe in ordered for name in short.shows(probe)}
    wording = Wording(ground.wired, ground.stands.view.net, ground.catalogue.parts)
    shorts = tuple(ColdLamps(ground.exposer, exposure, mistakes).shorts(ordered))
    tests = tuple(Records(ground, exposure, mistakes, steps, ordered, shorts).all())
    swings = any(test.dark is not None for test in tests)
    return MeterPage(
        tests,
        notes(
            ground.wired.loom,
            ground.catalogue.parts,
            swings=swings,
            plus=any(exposure.good[probe].plus for probe in ordered),
            places=_tipped(ground, ordered),
        ),
        tuple(mistake.words for name, mistake in mistakes.items() if name in missed - twins),
        wording.titles(),
        wording.after_words(ordered[-1].setup if ordered else None),
        tuple(dict.fromkeys(words for short in shorts for words in wording.ends_words(short))),
    )


def _must(ground: Ground, candidates: Candidates, behaviours: Sequence[BehaviourLine]) -> Iterator[Probe]:
    """Yield the readings that must be taken: the fitted parts' loads that are on, and what is no longer.

    And that what is earthed through its fixing is, that an alternator is excited, what a sender has at both
    ends of its arm, that no stabiliser is left out, and that a starter stays dead where it must.
    """
    wired = ground.wired
    for key in own_loads(wired, ground.seen.survey):
        yield from on_probes(ground, candidates, key)
    yield from fixing_probes(ground)
    yield from under_load_probes(ground, candidates.on)
    yield from field_probes(ground, candidates.on)
    yield from sender_probes(ground)
    yield from Stabilised(wired.loom, ground.catalogue.parts).probes(wired)
    yield from Cranking(ground).must_stay_dead(candidates.on)
    for line, setup in no_longer(behaviours, ground.stands):
        known = next((own for own in candidates.setups if own.name == setup.name), setup)
        why = tr(_NO_LONGER[line.outcome]).format(
            does=line.what,
            place=line.title,
            now=appearance_words(line.after),
            was=appearance_words(line.before),
        )
        if line.outcome == "unintended" and _is_warning_lamp(ground, line.at):
            why = tr("{why}: lit whenever this is set, it warns of nothing any more", why=why)
        if is_flash(ground, (line.at, line.what), setup):
            why = tr("the flash of the headlamps: {why}", why=why)
        yield from of_load(ground, (line.at, line.what), [known], why)


def _is_warning_lamp(ground: Ground, at: str) -> bool:
    return ground.catalogue.parts[ground.wired.loom.places[at].part].family == _WARNING_LAMP


def _tipped(ground: Ground, probes: Sequence[Probe]) -> frozenset[str]:
    """The places at which a tip is put."""
    tips = {tip.partition(":")[0] for probe in probes for tip in (probe.at, probe.to)}
    return frozenset(tips & ground.wired.loom.places.keys())


def _one_at_each_place(ground: Ground, exposure: Exposure, chosen: Sequence[Probe]) -> Iterator[Probe]:
    """Yield a live reading for each changed place that has none yet: first one at which something arrives.

    All that it shows is shown already, so no control is moved for it that does not show something more.
    """
    done = {place(probe) for probe in chosen if probe.setup is not None}
    cranking = Cranking(ground)
    setups = {probe.setup for probe in chosen}

    def worth(probe: Probe) -> tuple[bool, bool, int, str]:
        arrives, shown = exposure.good[probe].reading > NO_VOLTS, len(exposure.shown(probe))
        return probe.setup in setups, arrives, shown - moved(probe), probe.id

    for name in sorted(ground.wired.touched_places - done):
        own = [p for p in exposure.good if p.setup is not None and place(p) == name and exposure.wrong[p]]
        still = [p for p in own if p.setup is not None and not cranking.turns(p.setup)]
        if own:
            yield max(still or own, key=worth)
