"""Puts this folder on the path, for tests to import ``small_looms``; spreads whole runs over the cores."""

import pytest


def pytest_xdist_auto_num_workers(config: pytest.Config) -> int | None:
    """Start no workers for a few named files: they would take longer to start than to run."""
    return 0 if config.args_source is pytest.Config.ArgsSource.ARGS else None
