"""Waiting lines in closed form, against what is published and against each other."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.errors import ScoringError
from tests.decision.published import published
from tests.model.queue.queueing import (
    chance_of_longer_wait,
    erlang_b,
    erlang_c,
    mm_c,
    pollaczek_khinchine,
)

# Each file names its source; all were read in a transcription, none in the original.
# Westbay, Erlang calculator manual, and the classic table of traffic at 1 % lost
LOSS = published("queue_erlang_b_loss")
# "Erlang C Formula - Made Simple With an Easy Worked Example": 100 calls in 30 min
CALLS = published("queue_erlang_c_ten_erlangs")
# Cengage Learning, worksheet for multiple servers: 10 arrivals, 12 served in an hour
SERVERS = published("queue_mm2_cengage_table")
# van Foreest, Analysis of Queueing Systems (open book), one machine, exercise l-241
STATION = published("queue_mg1_pk_workstation")
# Hall (1991), Queueing Methods, problem 5.19, as computed in van Foreest's book; no
# printed answer was seen, only one computed in full from Pollaczek-Khinchine
BUSES = published("queue_mg1_bus_inspection_hall")
loads = st.floats(0, 50)
counts = st.integers(1, 30)


@pytest.mark.parametrize("n_lines", [1, 2, 3, 4, 5, 10])
def test_loss_at_the_traffic_of_the_classic_table(n_lines):
    """The printed traffic loses 1 % of calls, as near as its decimals allow."""
    printed = LOSS["published"]["values"]["A_1pct"][str(n_lines)]
    slack = LOSS["published"]["tolerance_abs"]["column"] if n_lines > 1 else 5.1e-5
    low, high = erlang_b(np.array([printed - slack, printed + slack]), n_lines)
    assert low <= LOSS["inputs"]["blocking"] <= high


def test_loss_of_fifteen_lines():
    """15 lines carry 8.108 erlangs with 1 % lost."""
    printed = LOSS["published"]["values"]["A_15"]
    slack = LOSS["published"]["tolerance_abs"]["A_15"]
    low, high = erlang_b(np.array([printed - slack, printed + slack]), 15)
    assert low <= LOSS["inputs"]["blocking"] <= high


@pytest.mark.parametrize("n_servers", [1, 2, 3])
def test_loss_of_few_servers(n_servers):
    """One to three servers lose the shares that the file computed."""
    grid = LOSS["full_precision"]["B_grid"][f"{n_servers}_servers"]
    found = erlang_b([float(load) for load in grid], n_servers)
    np.testing.assert_allclose(found, list(grid.values()), rtol=1e-12)


@given(loads, counts)
def test_loss_is_the_ratio_of_the_sum(load, n_servers):
    """The recursion gives aⁿ/n! over the sum of aᵏ/k!, the formula as it is printed."""
    terms = [load**k / math.factorial(k) for k in range(n_servers + 1)]
    found = erlang_b(load, n_servers).item()
    assert found == pytest.approx(terms[-1] / math.fsum(terms), rel=1e-9, abs=1e-300)


def test_calls_answered_in_time():
    """13 agents answer 79.56 % within 20 s, 14 answer 88.835 %."""
    inputs, printed = CALLS["inputs"], CALLS["published"]
    service = inputs["service_time_s"]
    rate = inputs["offered_load_erlangs"] / service
    late = chance_of_longer_wait(rate, service, [13, 14], inputs["target_s"])
    expected = [printed["values"]["SL_13"], printed["values"]["SL_14"]]
    np.testing.assert_allclose(1 - late, expected, atol=printed["tolerance_abs"])


def test_waits_of_calls():
    """The share that waits and the mean wait are those of the file, 11 to 15 agents."""
    inputs, full = CALLS["inputs"], CALLS["full_precision"]
    load, service = inputs["offered_load_erlangs"], inputs["service_time_s"]
    agents = np.array(inputs["agents"])
    within = {"rtol": 0, "atol": full["tolerance_abs"]}
    must_wait = [full["P_wait"][str(n)] for n in agents]
    np.testing.assert_allclose(erlang_c(load, agents), must_wait, **within)
    wait = [full["mean_wait_s"][str(n)] for n in agents]
    np.testing.assert_allclose(
        mm_c(load / service, service, agents).wait, wait, **within
    )


def test_lines_of_two_to_five_servers():
    """The printed worksheet's five figures come out for 2, 3, 4 and 5 servers."""
    inputs, printed = SERVERS["inputs"], SERVERS["published"]
    n_servers = inputs["servers"]
    rate, service = inputs["arrival_rate"], 1 / inputs["service_rate"]
    queue = mm_c(rate, service, n_servers)
    found = {
        "Lq": queue.number_waiting,
        "L": queue.number,
        "Wq": queue.wait,
        "W": queue.time,
        "P_wait": erlang_c(rate * service, n_servers),
    }
    for name, values in found.items():
        expected = [printed["values"][str(n)][name] for n in n_servers]
        slack = printed["tolerance_abs"]
        np.testing.assert_allclose(values, expected, rtol=0, atol=slack, err_msg=name)


def test_wait_at_one_machine():
    """3 jobs in 8 h of 2 h each wait 4.5 h if scv is 1/2, and 3 h if all are alike."""
    inputs, printed = STATION["inputs"], STATION["published"]
    rate, service = inputs["arrival_rate_per_h"], inputs["mean_service_h"]
    found = pollaczek_khinchine(rate, service, [inputs["scv_service"], 0]).wait
    expected = [printed["values"]["Wq_h"], printed["values"]["Wq_h_deterministic"]]
    np.testing.assert_allclose(found, expected, atol=printed["tolerance_abs"])


@pytest.mark.parametrize(
    ("shape", "scv"),
    [
        ("gamma_scv_half", 1 / 2),
        ("deterministic", 0),
        ("exponential", 1),
        ("uniform_0_4", 1 / 3),  # variance 4²/12 over mean² 4
    ],
)
def test_line_at_one_machine(shape, scv):
    """All four figures of the line are those of the file, for each law of service."""
    inputs, full = STATION["inputs"], STATION["full_precision"][shape]
    found = pollaczek_khinchine(
        inputs["arrival_rate_per_h"], inputs["mean_service_h"], scv
    )
    expected = [full["Wq"], full["Lq"], full["W"], full["L"]]
    np.testing.assert_allclose(found, expected, rtol=1e-12)


def test_line_of_buses():
    """Buses inspected in 5 ± 2 minutes, 10 an hour: wait and number as computed."""
    inputs, full = BUSES["inputs"], BUSES["full_precision"]["M_G_1"]
    scv = (inputs["sd"] / inputs["mean"]) ** 2
    found = pollaczek_khinchine(inputs["arrival_rate_per_min"], inputs["mean"], scv)
    expected = [full["Wq"], full["Lq"], full["W"], full["L"]]
    np.testing.assert_allclose(found, expected, rtol=1e-12)


def test_loss_of_one_machine():
    """One machine of load 3/4 without waiting room loses 3/7 of its jobs."""
    inputs = STATION["inputs"]
    found = erlang_b(inputs["arrival_rate_per_h"] * inputs["mean_service_h"], 1)
    expected = STATION["full_precision"]["loss_prob_MG11"]
    assert found.item() == pytest.approx(expected, rel=1e-12)


@given(st.floats(0, 0.99), st.floats(0.01, 100))
def test_one_exponential_server_either_way(load, service):
    """M/M/1 is M/M/c with one server and M/G/1 with a squared variation of 1."""
    rate = load / service
    many, general = mm_c(rate, service, 1), pollaczek_khinchine(rate, service, 1)
    np.testing.assert_allclose(many, general, rtol=1e-9, atol=1e-12)


@given(st.floats(0.01, 20), st.integers(1, 20))
def test_one_server_more_never_hurts(load, n_servers):
    """With one server more, no more are turned away and no more wait."""
    fewer, more = erlang_b(load, [n_servers, n_servers + 1])
    assert more <= fewer
    if load < n_servers:
        fewer, more = erlang_c(load, [n_servers, n_servers + 1])
        assert more <= fewer
        assert erlang_b(load, n_servers) <= fewer


def test_arguments_broadcast():
    """Loads (3, 1) and servers (2,) give (3, 2), each as it is alone."""
    loads, n_servers = np.array([[0.2], [0.5], [0.9]]), np.array([1, 2])
    for function in (erlang_b, erlang_c):
        together = function(loads, n_servers)
        alone = [[function(a, n).item() for n in (1, 2)] for a in (0.2, 0.5, 0.9)]
        assert together.tolist() == alone
    assert mm_c(loads, 1.0, n_servers).number.shape == (3, 2)
    assert pollaczek_khinchine(loads, 1.0, [0.0, 1.0]).number.shape == (3, 2)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: erlang_b(-1, 1), "load: -1.0; finite, 0 or more"),
        (lambda: erlang_b(1, 1.5), "servers: 1.5; a whole number, 0 or more"),
        (lambda: erlang_c(0.5, 0), "servers: 0.0; a whole number, 1 or more"),
        (
            lambda: erlang_c([0.5, 2.0], 2),
            "load: 2.0 with 2 to serve: the line grows without end; below the number "
            "of servers",
        ),
        (
            lambda: pollaczek_khinchine(2, 0.5, 0),
            "load: 1.0 with 1 to serve: the line grows without end; below the number "
            "of servers",
        ),
        (
            lambda: pollaczek_khinchine(0.1, 1, math.nan),
            "squared coefficient of variation: nan; finite, 0 or more",
        ),
        (
            lambda: chance_of_longer_wait(1, 0, 1, 1),
            "mean service: 0 is not a time to serve in; above 0",
        ),
    ],
)
def test_what_cannot_be_is_told(call, message):
    """An argument out of its range is named with what is allowed."""
    with pytest.raises(ScoringError) as told:
        call()
    assert str(told.value) == message
