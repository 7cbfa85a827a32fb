"""How many jobs there are, and of how many the right answer is no, or that somebody has to measure first.

Their plans are read from the golden documents, which ``test_golden.py`` holds against the plans of today.
"""

import json
from pathlib import Path
from typing import Any

from planned import JOBS, catalogue

from planner.reading.catalogue import read_jobs

GOLDEN = Path(__file__).parent / "golden"
JOBS_IN_ALL, REFUSED_OR_OPEN, OF_EACH = 40, 10, 4


def _plans() -> dict[str, dict[str, Any]]:
    return {job: json.loads((GOLDEN / f"{job}.json").read_text(encoding="utf-8")) for job in JOBS}


def test_there_are_forty_jobs_and_each_says_why_its_answer_is_right() -> None:
    jobs = read_jobs(catalogue())
    assert len(jobs) >= JOBS_IN_ALL
    assert [name for name, job in jobs.items() if not job.reasoning] == []


def test_of_ten_jobs_the_answer_is_not_to_do_it_or_to_measure_first() -> None:
    plans = _plans()
    refused = {
        job for job, plan in plans.items() if plan["verdict"] == "unsafe" or plan["road"]["fit"] == "no"
    }
    undecided = {job for job, plan in plans.items() if plan["verdict"] in ("measure", "unsettled")} - refused
    assert len(refused | undecided) >= REFUSED_OR_OPEN
    assert len(refused) >= OF_EACH and len(undecided) >= OF_EACH
    # Each of them says why: what is lost or dangerous, or what to read and what the answers mean.
    assert [job for job in refused if not plans[job]["road"]["why"]] == []
    assert [job for job in undecided if not all(q["answers"] for q in plans[job]["questions"])] == []
    assert [job for job in undecided if not plans[job]["questions"] and not plans[job]["unsettled"]] == []
