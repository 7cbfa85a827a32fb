"""Gauges and senders against the ranges of ohms that makers publish; all from memory (see the table)."""

import csv
from pathlib import Path

import pytest

from planner.model.elements import Gauge, Sender

TABLE = Path(__file__).parent / "reference" / "senders.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))
LEAST_OHMS = 1.0  # a sender that is a dead short at one end is written as this
# Parts by the range and what is measured; the number of a name is not always in the order of its range.
SENDERS = {
    ("10-180", "fuel"): ("fuel-sender-10-180", "fuel-gauge-10-180"),
    ("240-33", "fuel"): ("fuel-sender-33-240", "fuel-gauge-33-240"),
    ("0-90", "fuel"): ("fuel-sender-0-90", "fuel-gauge-0-90"),
    ("73-10", "fuel"): ("fuel-sender-73-10", "fuel-gauge-73-10"),
    ("287-22", "water"): ("temperature-sender-287-22", "temperature-gauge-287-22"),
    ("450-30", "water"): ("temperature-sender-450-30", "temperature-gauge-450-30"),
    ("10-184", "oil pressure"): ("oil-sender-10-184", "oil-gauge-10-184"),
    ("240-33", "oil pressure"): ("oil-sender-240-33", "oil-gauge-240-33"),
}


def sender_of(catalogue, name: str) -> Sender:
    (found,) = (e for e in catalogue.parts[name].inside if isinstance(e, Sender))
    return found


def test_every_row_is_from_memory_and_of_a_range_that_is_tried():
    assert {row["basis"] for row in ROWS} == {"memory"}
    assert {(row["range"], row["of"]) for row in ROWS} == set(SENDERS)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['of']} {row['range']} {row['state']}")
def test_a_sender_has_the_ohms_of_its_range_at_the_ends(catalogue, row):
    sender = sender_of(catalogue, SENDERS[row["range"], row["of"]][0])
    assert sender.follows == row["of"]
    assert sender.ohms[row["state"]] == max(float(row["ohms"]), LEAST_OHMS)


@pytest.mark.parametrize("name", sorted({sender for sender, _ in SENDERS.values()}))
def test_ohms_between_the_ends_lie_between_them_and_in_order(catalogue, name):
    ohms = list(sender_of(catalogue, name).ohms.values())
    assert ohms in (sorted(ohms), sorted(ohms, reverse=True))


@pytest.mark.parametrize("sender, gauge", sorted(SENDERS.values()))
def test_a_gauge_with_the_sender_of_its_range_points_at_its_marks(catalogue, sender, gauge):
    """The current of the two in series at the gauge's own volts, as a share of full scale."""
    (inside,) = (e for e in catalogue.parts[gauge].inside if isinstance(e, Gauge))
    ohms = sender_of(catalogue, sender).ohms
    volts = inside.volts or catalogue.parts[gauge].volts
    assert set(inside.marks) == set(ohms)
    for state, mark in inside.marks.items():
        share = volts / (inside.ohms + ohms[state]) / inside.full_scale_amps
        assert abs(share - mark) < 0.02, state
