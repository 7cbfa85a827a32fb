"""The layout engine outlives whatever event loop it was first asked in."""

import subprocess
import sys

GRAPH = (
    "[{'id': 'g', 'children': [{'id': 'a', 'width': 9.0, 'height': 9.0}, "
    "{'id': 'b', 'width': 9.0, 'height': 9.0}], 'edges': [{'id': 'e', 'sources': ['a'], 'targets': ['b']}]}]"
)


def test_it_goes_on_when_the_loop_it_was_first_asked_in_is_closed() -> None:
    code = (
        f"import asyncio\nfrom planner.pictures.layered import lay_out\n\nasync def ask():\n"
        f"    return lay_out({GRAPH})\n\nprint(asyncio.run(ask()) == lay_out({GRAPH}))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "True\n"
