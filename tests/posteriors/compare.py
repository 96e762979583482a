"""Posteriors and information of random networks of faults and tests, by a general library for Bayesian networks; and scores of
random forecasts, by one for statistics.

    compare.py write NETWORKS          writes the networks
    compare.py check NETWORKS ANSWERS  compares what tests/reason/posteriors.rs made of them
"""

import json
import sys

import numpy
from pgmpy.factors.discrete import TabularCPD
from pgmpy.inference import VariableElimination
from pgmpy.models import DiscreteBayesianNetwork
from scipy.stats import entropy
from sklearn.metrics import brier_score_loss, log_loss

NETWORKS = 240
FORECASTS = 300
# As src/reasoning/score.rs: less than this counts as this.
LEAST_GIVEN = 0.01
TOLERANCE = 1e-12


def write(path):
    """Hypotheses with weights and groups, tests with P(outcome | hypothesis), and what some of them showed."""
    draw = numpy.random.default_rng(20)
    networks = []
    for _ in range(NETWORKS):
        hypotheses, tests = int(draw.integers(2, 9)), int(draw.integers(2, 6))
        chances = []
        for _ in range(tests):
            outcomes = int(draw.integers(2, 5))
            if draw.uniform() < 0.3:
                # Without chance: one outcome to each hypothesis.
                rows = numpy.eye(outcomes)[draw.integers(0, outcomes, hypotheses)]
            else:
                rows = draw.dirichlet(numpy.full(outcomes, 0.6), size=hypotheses)
            chances.append(rows.tolist())
        # What is seen can be seen: one hypothesis is the true one, and each test is made once at most.
        true = int(draw.integers(0, hypotheses))
        made = draw.permutation(tests)[: int(draw.integers(0, tests))]
        seen = [[int(test), int(draw.choice(len(chances[test][true]), p=chances[test][true]))] for test in made]
        networks.append(
            {
                "weights": draw.uniform(0.05, 3.0, hypotheses).tolist(),
                "groups": draw.integers(0, hypotheses, hypotheses).tolist(),
                "chances": chances,
                "seen": seen,
            }
        )
    with open(path, "w", encoding="utf-8") as file:
        json.dump({"networks": networks, "forecasts": forecasts(draw)}, file)


def forecasts(draw):
    """Probabilities that were stated, some of them 0 or nearly, and which came true."""
    made = []
    for _ in range(FORECASTS):
        stated = draw.dirichlet(numpy.full(int(draw.integers(2, 9)), 0.4))
        if draw.uniform() < 0.2:
            stated = numpy.where(stated < stated.max(), 0.0, 1.0)
        made.append({"stated": (stated / stated.sum()).tolist(), "truth": int(draw.integers(0, len(stated)))})
    return made


def scored_by_library(forecast):
    """Brier's score, and the logarithmic score in bits."""
    stated, labels = numpy.array(forecast["stated"]), range(len(forecast["stated"]))
    brier = brier_score_loss([forecast["truth"]], [stated], labels=labels, scale_by_half=False)
    # Of what was given to the truth only: the library wants shares that sum to one.
    given = max(stated[forecast["truth"]], LEAST_GIVEN)
    return brier, log_loss([0], [[given, 1.0 - given]], labels=[0, 1]) / numpy.log(2.0)


def by_library(network):
    """Posterior, what is not known of the group, and by test what making it once more tells of the group, in bits."""
    weights = numpy.array(network["weights"])
    hypotheses, tests = len(weights), len(network["chances"])
    children = ["group"] + [f"{made}{test}" for made in ("seen", "next") for test in range(tests)]
    model = DiscreteBayesianNetwork([("fault", child) for child in children])
    model.add_cpds(TabularCPD("fault", hypotheses, (weights / weights.sum()).reshape(-1, 1)))
    tables = {"group": numpy.eye(hypotheses)[network["groups"]].T}
    for test, rows in enumerate(network["chances"]):
        tables[f"seen{test}"] = tables[f"next{test}"] = numpy.array(rows).T
    for child, table in tables.items():
        model.add_cpds(TabularCPD(child, len(table), table, evidence=["fault"], evidence_card=[hypotheses]))
    inference = VariableElimination(model)
    seen = {f"seen{test}": outcome for test, outcome in network["seen"]}

    def query(*names):
        found = inference.query(list(names), evidence=seen, show_progress=False)
        return numpy.transpose(found.values, [found.variables.index(name) for name in names])

    def bits(values):
        return float(entropy(values.ravel(), base=2))

    unknown = bits(query("group"))
    told = []
    for test in range(tests):
        joint = query("group", f"next{test}")
        told.append(unknown + bits(joint.sum(axis=0)) - bits(joint))
    return numpy.array([*query("fault"), unknown, *told])


def check(networks_path, answers_path):
    """Ends with a message where an answer is missing or differs by more than rounding."""
    with open(networks_path, encoding="utf-8") as file:
        asked = json.load(file)
        networks = asked["networks"]
    with open(answers_path, encoding="utf-8") as file:
        answered = json.load(file)
        answers = answered["networks"]
    if len(answers) != len(networks) or len(networks) < NETWORKS:
        sys.exit(f"{len(answers)} answers to {len(networks)} networks, of which there should be {NETWORKS}")
    worst = 0.0
    for at, (network, answer) in enumerate(zip(networks, answers)):
        theirs = by_library(network)
        ours = numpy.array([*answer["posterior"], answer["unknown_bits"], *answer["bits"]], dtype=float)
        if ours.shape != theirs.shape:
            sys.exit(f"network {at}: {len(ours)} figures and not {len(theirs)}")
        apart = float(numpy.abs(ours - theirs).max())
        # Written so that what is no number fails.
        if not apart <= TOLERANCE:
            sys.exit(f"network {at}: figures differ by up to {apart:.1e}: {ours} here, {theirs} by the library")
        worst = max(worst, apart)
    print(f"{len(networks)} networks: probabilities and bits differ by at most {worst:.1e}")
    theirs = numpy.array([scored_by_library(forecast) for forecast in asked["forecasts"]])
    ours = numpy.array(answered["forecasts"], dtype=float)
    if ours.shape != theirs.shape or len(theirs) < FORECASTS:
        sys.exit(f"{len(ours)} scores of {len(theirs)} forecasts, of which there should be {FORECASTS}")
    apart = float(numpy.abs(ours - theirs).max())
    if not apart <= TOLERANCE:
        sys.exit(f"Brier's or the logarithmic score differs by up to {apart:.1e}")
    print(f"{len(theirs)} forecasts: scores differ by at most {apart:.1e}")


if __name__ == "__main__":
    {"write": write, "check": check}[sys.argv[1]](*sys.argv[2:])
