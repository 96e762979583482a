"""A class's records and table beside other programs: pandas reads both back, chain and signature are verified by other
libraries from the description in src/record/README.md alone, and DuckDB answers a question over a million steps.

    python read_back.py PROGRAM
"""

import json
import os
import subprocess
import sys
import tempfile
import time

import blake3
import duckdb
import pandas
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

HERE = os.path.dirname(os.path.abspath(__file__))
SCENARIO = os.path.join(HERE, "..", "survey", "two-faults.scenario.ron")
ACTS = """cautions
key release
lever
lid up
prop
take lid-trim off
meter volts
black body
red latch.1
write cause no "volts", at latch.1 | 0.02 V
tape bellows
name latch-feed open at bellows 60%
refer
"""
STEPS = 1_000_000


def run(program, *arguments, feed=""):
    done = subprocess.run([program, *arguments], input=feed, text=True, capture_output=True, check=False)
    assert done.returncode == 0, (arguments, done.stdout, done.stderr)


def verify(path):
    """Chain and signature, as the format's description has them."""
    with open(path, "rb") as file:
        lines = file.read().split(b"\n")
    assert lines.pop() == b""
    before = None
    for line in lines:
        value = json.loads(line)
        assert before is None or value["previous"] == before
        before = blake3.blake3(line).hexdigest()
    closing = json.loads(lines[-1])["previous"]
    seal = json.loads(lines[-1])["seal"]
    key = Ed25519PublicKey.from_public_bytes(bytes.fromhex(seal["key"]))
    # Raises where it does not fit.
    key.verify(bytes.fromhex(seal["signature"]), f"probeworthy record 3, closed: {closing}".encode())


def read_back(program, folder):
    records = os.path.join(folder, "records")
    os.mkdir(records)
    for seed in (4, 5, 6):
        path = os.path.join(records, f"{seed}.jsonl")
        run(program, "desk", SCENARIO, "--seed", str(seed), "--record", path, "--script", "-", feed=ACTS)
        verify(path)
    table = os.path.join(folder, "steps.csv")
    run(program, "class", records, "--out", os.path.join(folder, "page.html"), "--csv", table)
    rows = pandas.read_csv(table, keep_default_na=False)
    steps = []
    for name in sorted(os.listdir(records)):
        # JSON Lines: pandas gives a column to each key; steps are those lines that have one.
        lines = pandas.read_json(os.path.join(records, name), lines=True, dtype=False, precise_float=True)
        steps += [(step, at) for step, at in zip(lines["step"], lines["at"]) if isinstance(step, dict)]
    assert len(rows) == len(steps) == 3 * len(ACTS.splitlines())
    for row, (step, at) in zip(rows.to_dict("records"), steps):
        assert (row["step"], row["act"], row["at"]) == (step["number"], step["act"], at)
        assert float(row["minutes"]) == step["minutes"]
        value = step["shown"].get("meter", {}).get("value")
        assert (None if row["meter_value"] == "" else float(row["meter_value"])) == value
        assert row["seen"] == " | ".join(step["shown"].get("seen", []))
    assert pandas.to_datetime(rows["at"], utc=True).is_monotonic_increasing
    print(f"{len(rows)} steps read back by pandas, chain and signature verified by blake3 and cryptography")
    return list(rows.columns)


def question(columns, folder):
    """A million steps with the same columns: how long do the readings of each act take, job by job?"""
    table = os.path.join(folder, "million.csv")
    made = {
        "record": "md5((n // 40)::VARCHAR)",
        "candidate": "'person ' || (n // 40 % 500)",
        "job": "n // 40 % 4 + 1",
        "step": "n % 40 + 1",
        "minutes": "(n % 40) * 0.7",
        "act": "'red latch.' || (n % 9 + 1)",
        "meter_value": "(n * 37 % 1300) / 100.0",
        "meter_unit": "'V'",
    }
    fields = ", ".join(f'{made.get(column, "NULL")} AS "{column}"' for column in columns)
    duckdb.sql(f"COPY (SELECT {fields} FROM range({STEPS}) t(n)) TO '{table}' (HEADER)")
    since = time.monotonic()
    found = duckdb.sql(
        f"""SELECT job, act, count(*) AS steps, avg(meter_value) AS volts, count(DISTINCT candidate) AS people
            FROM read_csv('{table}', types={{'job': 'INTEGER', 'meter_value': 'DOUBLE'}})
            WHERE meter_unit = 'V' GROUP BY job, act ORDER BY job, act"""
    ).fetchall()
    seconds = time.monotonic() - since
    assert len(found) == 36 and sum(row[2] for row in found) == STEPS, len(found)
    size = os.path.getsize(table) / 1e6
    print(f"DuckDB: {len(found)} groups of {STEPS} steps ({size:.0f} MB) in {seconds:.2f} s")


def main():
    program = os.path.abspath(sys.argv[1])
    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_DATA_HOME"] = os.environ["HOME"] = folder
        question(read_back(program, folder), folder)


main()
