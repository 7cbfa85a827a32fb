"""What ``plan`` gives for each shipped job, kept as it is until somebody looks at a change and takes it over.

``LOOMWRIGHT_REFRESH=1`` writes the files anew; read the difference before it is committed.
"""

import json
import os
from pathlib import Path
from typing import Any

import pytest
from planned import JOBS, planned

GOLDEN = Path(__file__).parent / "golden"
REFRESH = "LOOMWRIGHT_REFRESH"
# How the proof went, not what came of it: differs with the machine and with every change of the search.
PASSING = ("seconds", "solved", "compared", "looms")
TIGHT = (
    0.9  # of a limit: what uses less of it is not kept, for there are hundreds of such values in each plan
)
STRAIN = ("kind", "at", "leg", "value", "limit", "unit", "new", "when")


def document(job: str) -> dict[str, Any]:
    """The contract's document of a job, as it is read back from JSON, without what is passing."""
    whole = planned(job).as_json()
    whole["proof"] = {key: value for key, value in whole["proof"].items() if key not in PASSING}
    tight = [shown(s) for s in whole["currents"]["strains"] if s["use"] is None or s["use"] > TIGHT]
    whole["currents"] = {"strains": tight}
    return dict(json.loads(json.dumps(whole)))


def shown(strain: dict[str, Any]) -> dict[str, Any]:
    """What is kept of a strain, in as many digits as a meter shows."""
    kept = {key: strain[key] for key in STRAIN}
    return {**kept, "value": float(f"{kept['value']:.3g}"), "limit": float(f"{kept['limit']:.3g}")}


@pytest.mark.parametrize("job", JOBS)
def test_the_plan_is_the_one_that_was_looked_at(job: str) -> None:
    file = GOLDEN / f"{job}.json"
    if os.environ.get(REFRESH):
        GOLDEN.mkdir(exist_ok=True)
        text = json.dumps(document(job), indent=1, ensure_ascii=False)
        file.write_text(text + "\n", encoding="utf-8")
    assert file.is_file(), f"no golden output of {job}: run with {REFRESH}=1 and read what it wrote"
    assert document(job) == json.loads(file.read_text(encoding="utf-8"))


def test_no_golden_output_is_left_of_a_job_that_is_gone() -> None:
    assert {file.stem for file in GOLDEN.glob("*.json")} <= set(JOBS)
