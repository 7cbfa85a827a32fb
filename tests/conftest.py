"""Puts this folder on the path, for tests to import ``small_looms``; spreads whole runs over the cores."""

import os

import pytest
from hypothesis import settings

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the command does: small networks want one core
settings.register_profile("loomwright", deadline=None)  # speed is for benchmarks
settings.load_profile("loomwright")


def pytest_xdist_auto_num_workers(config: pytest.Config) -> int | None:
    """Start no workers for a few named files: they would take longer to start than to run."""
    return 0 if config.args_source is pytest.Config.ArgsSource.ARGS else None
