"""Any mixture of accepted keys ends in an answer or a refusal."""

import numpy as np
import pytest

from bench.random_jobs import SEED, tried, valid_job

COUNT = 20  # `python -m bench.random_jobs 3000` tries more
MEMBERS = 300


@pytest.mark.slow
@pytest.mark.parametrize("part", range(10))
def test_random_valid_jobs_end_in_an_answer_or_a_refusal(part):
    rng = np.random.default_rng((SEED, part))
    for number in range(COUNT // 10):
        text = valid_job(rng)
        found = tried(text, MEMBERS, refine=number == 0, seconds=60.0)
        assert found.how in ("answered", "refused", "late"), f"{text}\n{found.told}"
