"""The plan made by hand, borrowed from the tests of the sheets."""

import importlib.util
from pathlib import Path

import pytest

from planner.model.plan import Plan


@pytest.fixture(scope="session")
def hand_made_plan() -> Plan:
    path = Path(__file__).parents[1] / "sheets" / "hand_made.py"
    spec = importlib.util.spec_from_file_location("hand_made_plan", path)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    plan = module.PLAN
    assert isinstance(plan, Plan)
    return plan
