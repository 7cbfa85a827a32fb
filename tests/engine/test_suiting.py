"""The weakest part that is strong enough is found, and hardly another is read for it."""

from itertools import pairwise
from math import inf

import pytest
from small_looms import Bench

import catalogs
from planner.engine.case import Case
from planner.engine.suiting import parts_of, weakest_in_line, weakest_part
from planner.model.catalogue import Catalogue
from planner.model.elements import Diode, Fuse
from planner.model.facts import Facts
from planner.model.job import Job
from planner.model.need import Fitted
from planner.model.part import Part
from planner.reading import part_files
from planner.reading.catalogue import read_catalogue, scan_catalogue

ROLES = ("30", "85", "86", "87")
RELAY = """- part: relay-{number}
  title: Relay
  family: relay
  source: invented
  terminals:
    "30": {{role: "30"}}
    "85": {{role: "85"}}
    "86": {{role: "86"}}
    "87": {{role: "87"}}
  inside:
    - coil: {{between: ["86", "85"], ohms: 80, pulls_in_v: 7.2, drops_out_v: 2.5, name: armature}}
    - contact: {{join: ["30", "87"], when: {{armature: pulled}}{amps}}}
"""
RATINGS = ("5", "40", None, "20", '"15"', "10", "30", "20")  # one unrated; one in quotes, told by no line
JOB = Job.model_validate({"job": "j", "loom": "small", "swaps": []})


def case(catalogue: Catalogue) -> Case:
    bench = Bench({}, {}, [], {"i": {"role": "15"}})
    return Case(Fitted("i"), bench.loom, bench.loom, catalogue, JOB, Facts())


def contact_amps(part: Part) -> float | None:
    """The amps of a relay's last contact; inf if none are told."""
    return next((e.amps or inf for e in reversed(part.inside) if e.element == "contact"), None)


@pytest.fixture
def folders(tmp_path):
    """The shipped catalogue, and relays beside it."""
    (tmp_path / "parts").mkdir()
    texts = (RELAY.format(number=n, amps=f", amps: {amps}" if amps else "") for n, amps in enumerate(RATINGS))
    (tmp_path / "parts" / "relays.yaml").write_text("".join(texts), encoding="utf-8")
    return [catalogs.directory(), tmp_path]


@pytest.mark.parametrize("least", [0.0, 4.0, 5.0, 5.1, 15.0, 16.0, 20.0, 25.0, 31.0, 40.0, 41.0, 1000.0])
def test_the_weakest_is_the_one_that_looking_at_all_would_find(folders, least):
    every = case(read_catalogue(folders))
    rated = [(contact_amps(part), part.part) for part in parts_of(every, "relay", ROLES)]
    looked = min(((amps, name) for amps, name in rated if amps is not None and amps >= least), default=None)
    found = weakest_part(case(scan_catalogue(folders)), "relay", ROLES, contact_amps, least)
    assert (found and found.part) == (looked and looked[1])
    assert weakest_part(every, "relay", ROLES, contact_amps, least) == found


def test_only_relays_that_could_be_weaker_are_read(folders, monkeypatch):
    read: list[str] = []
    take = part_files.PartFile.take
    monkeypatch.setattr(
        part_files.PartFile, "take", lambda file, entry: read.append(entry.name) or take(file, entry)
    )
    found = weakest_part(case(scan_catalogue(folders)), "relay", ROLES, contact_amps, 12.0)
    assert found is not None and found.part == "relay-4"
    assert read == ["relay-4"]  # its quotes hide its amps; the others told of tell 20 and more


def test_parts_of_a_family_come_by_their_ids_and_each_is_read_when_it_is_reached(folders, monkeypatch):
    read: list[str] = []
    take = part_files.PartFile.take
    monkeypatch.setattr(
        part_files.PartFile, "take", lambda file, entry: read.append(entry.name) or take(file, entry)
    )
    found = parts_of(case(scan_catalogue(folders)), "relay", ROLES)
    first = next(found)
    assert len(read) < 5
    assert all(one.part < other.part for one, other in pairwise([first, *found]))


@pytest.mark.parametrize("kind", [Diode, Fuse])
def test_what_is_put_in_line_is_the_weakest_that_bears_the_current(kind):
    at_hand = case(scan_catalogue([catalogs.directory()]))
    rated = {
        e.amps or inf: p.part for p in parts_of(at_hand, "in-line") for e in p.inside if isinstance(e, kind)
    }
    for least in (*rated, 0.1):
        found = weakest_in_line(at_hand, kind, least)
        assert found is not None and found[0].part == rated[min(amps for amps in rated if amps >= least)]
        assert isinstance(found[1], kind)
    assert weakest_in_line(at_hand, kind, 1e6) is None or inf in rated
