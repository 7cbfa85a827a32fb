"""What each outcome of a reading would mean: ranges of readings, and who is suspected after each."""

from collections.abc import Iterator, Mapping

import numpy as np

from planner.currents.curves import Array
from planner.model.hunt_report import OutcomeLine
from planner.model.observations import LOOKS, TEST_LAMP, ObservationKind
from planner.testing.hunt.agreeing import (
    fuse_branch,
    is_warm,
    lamp_chances,
    load_key,
    look_chances,
    where_it_sits,
)
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.offers import MOST_WORLDS
from planner.testing.hunt.per_world import Worlds
from planner.testing.hunt.question import Question
from planner.testing.hunt.tolerance import ohms_scale, volts_scale
from planner.testing.hunt.vehicle import NOTHING
from planner.testing.hunt.words import Words, ohms_words, one_of

GAP = 3.0  # standard deviations between two readings that mean different things
LEAST_CHANCE = 0.04  # an outcome that is less likely is not told
MOST_NAMED = 3  # suspects after one outcome
SAID: Mapping[ObservationKind, tuple[str, ...]] = {
    "fuse": ("blown", "sound"),
    "warm": ("warm", "cold"),
    "lamp": TEST_LAMP,
}


def outcomes(question: Question, hunt: Hunt) -> tuple[OutcomeLine, ...]:
    """The outcomes of a question, likeliest first."""
    worlds, weights = hunt.worlds[:MOST_WORLDS], hunt.weights[:MOST_WORLDS]
    ways = {"looks": _looked, "sits": _sitting, "fuse": _said, "warm": _said, "lamp": _said}
    found = list(ways.get(question.kind, _read)(question, hunt, worlds, weights))
    return tuple(sorted(found, key=lambda line: -line.chance))


def _sitting(question: Question, hunt: Hunt, worlds: Worlds, weights: Array) -> Iterator[OutcomeLine]:
    wired = hunt.vehicle.wired
    where = where_it_sits(hunt.vehicle, question.at, worlds)
    should = where_it_sits(hunt.vehicle, question.at, np.array([NOTHING]))[0]
    for address in dict.fromkeys(where.tolist()):
        some = where == address
        chance = float(weights[some].sum())
        said = "loose" if address == "loose" else f"on {wired.at(address)}"
        if address == should or chance >= LEAST_CHANCE:
            means = _suspected(hunt, worlds[some], weights[some])
            yield OutcomeLine(said, means, chance, bool(address == should))


def _said(question: Question, hunt: Hunt, worlds: Worlds, weights: Array) -> Iterator[OutcomeLine]:
    """Yield what a fuse, a wire that is felt, or a test lamp may say."""
    chances, sound = (_chances(question, hunt, some) for some in (worlds, np.array([NOTHING])))
    for n, word in enumerate(SAID[question.kind]):
        joint = weights * chances[:, n]
        if joint.sum() >= LEAST_CHANCE:
            means = _suspected(hunt, worlds, joint)
            yield OutcomeLine(word, means, float(joint.sum()), n == int(sound[0].argmax()))


def _chances(question: Question, hunt: Hunt, worlds: Worlds) -> Array:
    outlook, setting, at = hunt.known.outlook, question.setting, question.at
    if question.kind == "lamp":
        return lamp_chances(outlook.lamp(setting, at, question.to, worlds))
    if question.kind == "warm":
        chance = is_warm(outlook, setting, at, worlds)
    else:
        chance = outlook.is_blown(setting, fuse_branch(outlook, at), worlds).astype(float)
    found: Array = np.stack((chance, 1.0 - chance), axis=1)
    return found


def _looked(question: Question, hunt: Hunt, worlds: Worlds, weights: Array) -> Iterator[OutcomeLine]:
    outlook, words = hunt.known.outlook, Words(hunt.vehicle)
    load = load_key(question.at)
    chances = look_chances(outlook, question.setting, load, worlds)
    sound = int(look_chances(outlook, question.setting, load, np.array([NOTHING]))[0].argmax())
    for n, look in enumerate(LOOKS):
        joint = weights * chances[:, n]
        if joint.sum() >= LEAST_CHANCE:
            said = words.look(question.at, look)
            yield OutcomeLine(said, _suspected(hunt, worlds, joint), float(joint.sum()), n == sound)


def _read(question: Question, hunt: Hunt, worlds: Worlds, weights: Array) -> Iterator[OutcomeLine]:
    outlook = hunt.known.outlook
    own = np.concatenate((worlds, [NOTHING]))
    if question.kind == "ohms":
        read = outlook.dead.ohms(question.at, question.to, own, has_fuses_out=question.has_fuses_out)
        scaled = ohms_scale(read)
    else:
        read = outlook.volts(question.setting, question.at, question.to, own)
        scaled = volts_scale(read)
    read, sound, at_sound = read[:-1], scaled[-1], scaled[:-1]
    order = np.argsort(at_sound, kind="stable")
    breaks = np.flatnonzero(np.diff(at_sound[order]) > GAP) + 1
    for some in np.split(order, breaks):
        chance = float(weights[some].sum())
        if chance < LEAST_CHANCE:
            continue
        low, high = float(read[some].min()), float(read[some].max())
        is_sound = bool(at_sound[some].min() - GAP < sound < at_sound[some].max() + GAP)
        said = _ohms(low, high) if question.kind == "ohms" else _volts(low, high)
        yield OutcomeLine(said, _suspected(hunt, worlds[some], weights[some]), chance, is_sound)


def _volts(low: float, high: float) -> str:
    one, other = f"{low + 0.0:.1f}".replace("-0.0", "0.0"), f"{high:.1f}".replace("-0.0", "0.0")
    return f"about {one} V" if one == other else f"{one} to {other} V"


def _ohms(low: float, high: float) -> str:
    one, other = ohms_words(low), ohms_words(high)
    return one if one == other else f"{one} to {other}"


def _suspected(hunt: Hunt, worlds: Worlds, weights: Array) -> str:
    """The likeliest suspects among some worlds, and how many more there are."""
    chance: dict[tuple[int, ...], float] = {}
    for world, weight in zip(worlds.tolist(), weights.tolist(), strict=True):
        mistakes = hunt.vehicle.worlds[world].mistakes
        chance[mistakes] = chance.get(mistakes, 0.0) + weight
    total = sum(chance.values())
    ordered = sorted(chance, key=lambda m: -chance[m])
    ordered = [m for m in ordered if chance[m] > 0.01 * total]
    named = one_of(hunt.vehicle, ordered[:MOST_NAMED])
    more = len(ordered) - MOST_NAMED
    return named + (f"; or {more} more" if more > 0 else "")
