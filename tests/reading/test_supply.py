"""A change of supply in a job: what cannot be is said at its place, with what would be accepted."""

import pytest
from marked import places_of

from planner.problems import InputError
from planner.reading.catalogue import read_catalogue, read_job, read_loom

LOOM, JOB, LAMPS = "looms/small.yaml", "jobs/01-do-it.yaml", "parts/lamps.yaml"
BATTERIES = "".join(
    f"""- part: {name}
  title: A battery
  family: battery
  source: invented
  volts: {volts}
  terminals: {{"+": {{}}, "-": {{}}}}
  inside: [{{source: {{between: ["{live}", "{back}"], volts: {volts}}}}}]
"""
    for name, volts, live, back in (
        ("battery-6", 6, "+", "-"),
        ("battery-12", 12, "+", "-"),
        ("battery-12-positive", 12, "-", "+"),
    )
)
SWAP = "{at: bay.lamp, fit: lamp}"


@pytest.fixture
def job_of(catalogue_at, tmp_path):
    """The folder of the small catalogue with a battery, the job's supply and one more swap as given."""

    def write(supply, fit=None, battery="battery-12"):
        folder, _ = catalogue_at(JOB, ("loom: small\n", f"loom: small\n{supply}"))
        (folder / LAMPS).write_text((folder / LAMPS).read_text() + BATTERIES)
        loom = (folder / LOOM).read_text()
        place = f"  bay.battery: {{part: {battery}, zone: bay}}\n"
        (folder / LOOM).write_text(loom.replace("piggybacks:", f"{place}piggybacks:"))
        if fit:
            job = (folder / JOB).read_text()
            (folder / JOB).write_text(job.replace(SWAP, f"{SWAP}\n  - {{at: bay.battery, fit: {fit}}}"))
        return folder

    return write


SUPPLY = "supply: {{volts: {}, earthed: {}}}\n"


@pytest.mark.parametrize(
    ("volts", "earthed", "fit"),
    [
        ("12", "negative", None),
        ("6", "negative", "battery-6"),
        ("12", "positive", "battery-12-positive"),
        ("24", "positive", "nothing"),
    ],
)
def test_a_supply_that_its_battery_gives_is_read(job_of, volts, earthed, fit):
    folder = job_of(SUPPLY.format(volts, earthed), fit)
    job, loom = read_job("do-it-now", read_catalogue([folder]))
    assert job.supply_after(loom).words == f"{volts} V, {earthed} earth"


def test_without_a_word_the_supply_stays(job_of):
    job, loom = read_job("do-it-now", read_catalogue([job_of("")]))
    assert job.supply is None and job.supply_after(loom) == loom.supply


@pytest.mark.parametrize(
    ("supply", "fit", "column", "message", "hint"),
    [
        (
            SUPPLY.format(24, "negative"),
            None,
            17,
            "the supply is to be 24 V, but bay.battery (battery-12) gives 12 V",
            "a battery of 24 V, negative earth at bay.battery (swaps), or the supply that it gives",
        ),
        (
            SUPPLY.format(12, "positive"),
            None,
            30,
            "the supply is to be positive earth, but bay.battery (battery-12) has its '+' post live",
            "a battery of 12 V, positive earth at bay.battery (swaps), or the supply that it gives",
        ),
        (
            SUPPLY.format(6, "negative"),
            "battery-12-positive",
            17,
            "the supply is to be 6 V, but bay.battery (battery-12-positive) gives 12 V",
            "a battery of 6 V",
        ),
        (SUPPLY.format(500, "negative"), None, 17, "volts must be at most 60, got '500'", "6, 12 or 24"),
        (SUPPLY.format(0, "negative"), None, 17, "volts must be above 0, got '0'", "6, 12 or 24"),
        (SUPPLY.format("12V", "negative"), None, 17, "volts must be a number, got '12V'", "6, 12 or 24"),
        (
            SUPPLY.format(12, "minus"),
            None,
            30,
            "earthed must be 'negative' or 'positive', got 'minus'",
            "one of: negative, positive",
        ),
        ("supply: {volts: 12}\n", None, 9, "earthed is missing", "the pole that is earthed"),
        ("supply: 12\n", None, 9, "supply must be a mapping, got '12'", "the supply afterwards"),
        (SUPPLY.format("12, amps: 3", "negative"), None, 21, "unknown key 'amps'", "volts"),
    ],
)  # fmt: skip
def test_a_supply_that_cannot_be_is_said_at_its_place(job_of, supply, fit, column, message, hint):
    folder = job_of(supply, fit)
    with pytest.raises(InputError) as error:
        read_job("do-it-now", read_catalogue([folder]))
    problem = error.value.problems[0]
    assert problem.message == message
    assert (problem.place.file, problem.place.line, problem.place.column) == (str(folder / JOB), 3, column)
    assert hint in (problem.hint or "")


@pytest.mark.parametrize(("battery", "column"), [("battery-6", 17), ("battery-12-positive", 30)])
def test_a_loom_with_a_battery_that_is_not_its_supply_is_refused(job_of, battery, column):
    folder = job_of("", battery=battery)
    with pytest.raises(InputError) as error:
        read_loom("small", read_catalogue([folder]))
    assert places_of(error.value) == [(2, column)]
