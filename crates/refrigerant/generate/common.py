"""What both generators share: comparing files, asking the Rust, writing numbers."""

import os
import re
import subprocess
import sys
from pathlib import Path

import CoolProp
import numpy as np

CRATE = Path(__file__).resolve().parent.parent
RANDOM_POINTS, SEED = 1000, 20
NUMBER = re.compile(r"-?\d+\.?\d*(?:e[-+]?\d+)?")


def versions():
    return f"CoolProp {CoolProp.__version__}, numpy {np.__version__}"


def rust_name(name):
    return name.replace("-", "").upper()


def rust_rows(numbers, indent, length):
    """Numbers already written, `length` to a row."""
    rows = [", ".join(numbers[i : i + length]) + "," for i in range(0, len(numbers), length)]
    return "".join(f"{' ' * indent}{row}\n" for row in rows)


def rust_series(series):
    low, high = map(float, series.domain)
    numbers = [f"{value:.12e}" for value in series.coef]
    return f"Chebyshev::new({low!r}, {high!r}, &[\n{rust_rows(numbers, 8, 4)}    ])"


def random_generator(*words):
    """Always the same numbers for the same words."""
    return np.random.default_rng([SEED, *" ".join(words).encode()])


def differences(committed, fresh, tolerance):
    """Where two texts differ in more than the last digits of a number."""
    old, new = committed.splitlines(), fresh.splitlines()
    if len(old) != len(new):
        return [f"{len(old)} lines are committed, {len(new)} are fresh"]
    found = []
    for number, (a, b) in enumerate(zip(old, new), 1):
        if a == b or a.startswith("//"):  # measured errors differ in their last digit
            continue
        left, right = (list(map(float, NUMBER.findall(x))) for x in (a, b))
        same_text = NUMBER.sub("", a) == NUMBER.sub("", b) and len(left) == len(right)
        close = same_text and all(
            abs(x - y) <= tolerance * max(1.0, abs(x), abs(y)) for x, y in zip(left, right)
        )
        if not close:
            found.append(f"line {number}:\n  committed {a}\n  fresh     {b}")
    return found


def stale(files, tolerance):
    """Which of the (path, fresh text) pairs are not what is committed."""
    failed = []
    for path, fresh in files:
        found = differences(path.read_text(), fresh, tolerance)
        if found:
            print("\n".join(found[:5]))
            failed.append(
                f"{path.name} is not what the generator makes: run `cargo xtask generate`"
            )
    return failed


def ask_rust(example, asked):
    """The numbers that an example of this crate prints, a list for each line asked."""
    command = [os.environ.get("CARGO", "cargo"), "run", "--quiet", "--release",
               "--package", "refrigerant", "--example", example]
    done = subprocess.run(command, cwd=CRATE, input="\n".join(asked) + "\n", text=True,
                          capture_output=True)
    answers = [line.split() for line in done.stdout.splitlines()]
    if done.returncode != 0 or len(answers) != len(asked):
        sys.exit(f"the example {example} failed:\n{done.stderr}")
    # `outside` is no number: every state asked for lies inside, so this stops the check.
    return [list(map(float, answer)) for answer in answers]


def finish(failed, good):
    """Ends a check: with what failed, or with one line that says what holds."""
    if failed:
        sys.exit("\n".join(["FAILED:", *failed]))
    print(good)
