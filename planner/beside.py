"""Work that is done beside other work.

It brings something only where a work waits for a library that runs outside of the interpreter.
"""

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from contextvars import copy_context
from typing import TypeVar

Result = TypeVar("Result")


def beside(work: Callable[[], Result]) -> Future[Result]:
    """Begin a work in a thread, in the language that is spoken here; ``result()`` waits for it or raises."""
    thread = ThreadPoolExecutor(1)
    future = thread.submit(copy_context().run, work)
    thread.shutdown(wait=False)
    return future
