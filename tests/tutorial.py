#!/usr/bin/python3
"""Follow docs/tutorial.md in an empty folder: its files, its changes, its commands, what they print.

  tutorial.py BIN PAGE

```xml NAME      the file NAME, whole             ```xml NAME +   lines put before its last line
```diff NAME     lines "-" that stand in it once, in a row, give way to the "+" behind them
```console       "$ command", then what it writes; "..." stands for any lines. `echo $?` = exit status
"""
import os
import re
import subprocess
import sys
import tempfile

from readme_examples import matches

FENCE = re.compile(r"^```(\w+)([^\n]*)\n(.*?)^```$", re.M | re.S)


def change(text, lines):
    """Apply "-" and "+" lines."""
    old, new = [], []

    def apply():
        nonlocal text
        if not old and not new:
            return
        was = "".join(line + "\n" for line in old)
        assert old and text.count(was) == 1, "not there once:\n" + was
        text = text.replace(was, "".join(line + "\n" for line in new))
        old.clear()
        new.clear()

    for line in lines:
        assert line[:1] in "+-", line
        if line[0] == "-" and new:
            apply()
        (old if line[0] == "-" else new).append(line[1:])
    apply()
    return text


def write_file(kind, name, body):
    if kind == "xml" and name.endswith(" +"):
        name = name[:-2]
        lines = open(name, encoding="utf-8").read().splitlines(True)
        body = "".join(lines[:-1]) + body + lines[-1]
    elif kind == "diff":
        body = change(open(name, encoding="utf-8").read(), body.splitlines())
    assert "/" not in name, name
    with open(name, "w", encoding="utf-8") as to:
        to.write(body)


def run(binary, words, status):
    """Both streams as they stand one after the other in a pipe. @return text, exit status"""
    if words == ["echo", "$?"]:
        return "%d\n" % status, status
    if words[0] == "touch":
        open(words[1], "a", encoding="utf-8").close()
        return "", 0
    assert words[0] == "stillset", words
    done = subprocess.run([binary] + words[1:], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
                          stdin=subprocess.DEVNULL, check=False)
    return done.stdout, done.returncode


def main(binary, page):
    text = open(page, encoding="utf-8").read()
    passed = failed = files = status = 0
    made = set()
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        for kind, name, body in FENCE.findall(text):
            if kind in ("xml", "diff"):
                write_file(kind, name.strip(), body)
                files += 1
                continue
            assert kind == "console", kind
            for block in re.split(r"^\$ ", body, flags=re.M)[1:]:
                command, want = block.split("\n", 1)
                words = command.split()
                have, status = run(binary, words, status)
                missing = matches(want.splitlines(), have.splitlines())
                if missing is None and "-o" in words:
                    made.add(words[words.index("-o") + 1])
                    missing = None if os.path.getsize(words[words.index("-o") + 1]) > 0 else "a file"
                if missing is None:
                    passed += 1
                    continue
                failed += 1
                print("FAIL %s\n     not found in order: %s" % (command, missing))
    print("%d files and changes, %d written, %d passed, %d failed" % (files, len(made), passed, failed))
    return 1 if failed or passed < 15 or files < 6 else 0


if __name__ == "__main__":
    sys.exit(main(os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])))
