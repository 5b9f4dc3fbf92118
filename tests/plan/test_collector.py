"""A job leaves the collector of rings nothing to find, and leaves it as it was."""

from __future__ import annotations

import gc
from collections.abc import Iterator

import pytest

from bench.errors import BenchError
from bench.model.recipe import Build
from bench.plan.collector import collector_resting
from tests.plan.bench_records import job_of


@pytest.fixture(autouse=True)
def as_it_was() -> Iterator[None]:
    yield
    gc.enable()


@pytest.mark.parametrize("build", list(Build))
def test_a_job_leaves_no_rings_of_objects(build: Build) -> None:
    """With what it holds and what it has let go of, asked for the gain of another mould or not."""
    gc.collect()
    gc.disable()
    job = job_of(build, count=60, moulds=2)
    assert job.gain_s is not None
    del job
    assert gc.collect() == 0


def test_the_collector_rests_meanwhile_and_is_as_it_was_afterwards() -> None:
    with collector_resting():
        assert not gc.isenabled()
        with collector_resting():
            pass
        assert not gc.isenabled()
    assert gc.isenabled()


def test_the_collector_is_awake_after_a_job_that_cannot_be_done() -> None:
    with pytest.raises(BenchError):
        job_of(Build.PLAIN, count=0)
    assert gc.isenabled()
