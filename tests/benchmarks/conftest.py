import gc
from collections.abc import Iterator

import pytest


@pytest.fixture(autouse=True)
def nothing_left_over() -> Iterator[None]:
    """What other tests left lying about is not searched through again while this one is timed."""
    gc.collect()
    gc.freeze()
    yield
    gc.unfreeze()
