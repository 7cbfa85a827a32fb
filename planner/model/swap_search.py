"""Finds a swap by the words people use for it, British or American."""

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from math import log

from planner.model.catalogue import Catalogue
from planner.model.job import Job
from planner.model.search import answering, words_of

MOST_NEAR = 6
_NEAR_ENOUGH = 0.7  # of the weight of the nearest
_SAYS_SOMETHING = log(4)  # a word to which a quarter of all jobs answers
# What a person says besides, and no swap is told from another by.
_SAYS_NOTHING = frozenset(
    {"auto", "automobile", "car", "vehicle", "van", "truck", "my", "the", "a", "an", "in", "on", "of", "for"}
    | {
        "new",
        "fit",
        "fitting",
        "replace",
        "replaced",
        "replacing",
        "change",
        "want",
        "i",
        "to",
        "be",
        "is",
        "by",
    }
)


def find_swaps(words: Sequence[str], jobs: Mapping[str, Job], catalogue: Catalogue) -> tuple[str, ...]:
    """The jobs that answer to all the words: by id and title, else by the parts that they fit as well.

    If the words are just those of one job's id or title, in their order or in any, it is that one.
    """
    said = words_of(" ".join(words))
    names = {name: (words_of(name), words_of(job.title or "")) for name, job in jobs.items()}
    in_order = [name for name, texts in names.items() if said in texts]
    in_any = [name for name, texts in names.items() if set(said) in map(set, texts)]
    for exact in (in_order, in_any):
        if len(exact) == 1:
            return (exact[0],)
    called = {name: frozenset(words_of(name, job.title or "")) for name, job in jobs.items()}
    with_parts = {name: called[name] | _of_parts(job, catalogue) for name, job in jobs.items()}
    bare = [word for word in said if word not in _SAYS_NOTHING]
    return (
        answering(words, called)
        or answering(words, with_parts)
        or (answering(bare, called) or answering(bare, with_parts) if bare != list(said) and bare else ())
    )


def nearest_swaps(words: Sequence[str], jobs: Mapping[str, Job], catalogue: Catalogue) -> tuple[str, ...]:
    """The jobs whose words answer best to some of those said, where none answers to all; the best first.

    A word counts the more, the fewer jobs answer to it, so that ``to`` and ``in`` hardly count.
    """
    called = {
        name: frozenset(words_of(name, job.title or "")) | _of_parts(job, catalogue)
        for name, job in jobs.items()
    }
    weight = dict.fromkeys(jobs, 0.0)
    for word in dict.fromkeys(words_of(" ".join(words))):
        if word in _SAYS_NOTHING:
            continue
        met = answering([word], called)
        for name in met:
            weight[name] += log(len(jobs) / len(met))
    best = max(weight.values(), default=0.0)
    near = [name for name, much in weight.items() if much > _NEAR_ENOUGH * best and best >= _SAYS_SOMETHING]
    return tuple(sorted(near, key=lambda name: -weight[name])[:MOST_NEAR])


def near_words(words: Sequence[str], jobs: Mapping[str, Job]) -> tuple[str, ...]:
    """Words of swaps that look like those said."""
    known = sorted({word for name, job in jobs.items() for word in words_of(name, job.title or "")})
    said = words_of(" ".join(words))
    return tuple(dict.fromkeys(n for word in said for n in get_close_matches(word, known, n=2, cutoff=0.75)))


def _of_parts(job: Job, catalogue: Catalogue) -> frozenset[str]:
    parts = [catalogue.parts[swap.fit] for swap in job.swaps if swap.fit in catalogue.parts]
    texts = [text for part in parts for text in (part.title, part.family, *part.words)]
    return frozenset(words_of(*texts))
