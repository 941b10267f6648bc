#!/usr/bin/python3
"""Run the console examples of README.md and compare what they print. "..." stands for any lines."""
import re
import subprocess
import sys


def matches(want, have):
    """Lines of `want` occur in `have` in order; without "..." between them they follow at once."""
    at, free = 0, False
    for line in want:
        if line == "...":
            free = True
            continue
        while at < len(have) and have[at] != line:
            if not free:
                return line
            at += 1
        if at == len(have):
            return line
        at, free = at + 1, False
    return None if free or at == len(have) else "end of output"


def main(binary, readme):
    text = open(readme, encoding="utf-8").read()
    failed = passed = 0
    for block in re.findall(r"```console\n(.*?)```", text, re.S):
        command, want = block.split("\n", 1)
        words = command[2:].split()
        assert words[0] in ("build/stillset", "xmllint"), command
        run = subprocess.run([binary if words[0] != "xmllint" else words[0]] + words[1:],
                             capture_output=True, text=True)
        out = run.stdout if words[0] != "xmllint" else run.stdout + run.stderr
        missing = matches(want.splitlines(), out.splitlines())
        if missing is None:
            passed += 1
        else:
            failed += 1
            print("FAIL %s\n     not found in order: %s" % (command, missing))
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed or not passed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2]))
