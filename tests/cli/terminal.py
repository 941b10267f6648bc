#!/usr/bin/python3
"""What the program does on a terminal: marks, width, --quiet, the line of progress. A pseudo terminal
stands for one. usage: terminal.py BIN SOURCE"""
import fcntl
import os
import re
import select
import struct
import subprocess
import sys
import tempfile
import termios
import time

BIN, SOURCE = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
TUTORIAL = os.path.join(SOURCE, "plants-demo/tutorial.xml")
PLAN = ["plan", TUTORIAL, "--target", "MV-1", "--grade", "single"]
MARK = re.compile(rb"\x1b\[(?:1|1;31|33|0)m")
failed = 0


def expect(good, what):
    global failed
    if not good:
        failed += 1
        print("FAIL " + what)


def run(args, out="tty", err="tty", columns=80, env=None):
    """Run with each of the two streams on the one terminal, or in a file of its own.
    @return what the terminal got, what the file of stdout got, that of stderr, exit status"""
    master, slave = os.openpty()
    attributes = termios.tcgetattr(slave)
    attributes[1] &= ~termios.OPOST  # newlines as they are
    termios.tcsetattr(slave, termios.TCSANOW, attributes)
    fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
    full = {"PATH": os.environ["PATH"], "LC_ALL": "C", "TERM": "xterm"}
    full.update(env or {})
    full = {k: v for k, v in full.items() if v is not None}
    files = [tempfile.TemporaryFile(), tempfile.TemporaryFile()]

    def own_session():
        os.setsid()
        fcntl.ioctl(slave, termios.TIOCSCTTY, 0)

    child = subprocess.Popen([BIN] + args, stdin=subprocess.DEVNULL, env=full, preexec_fn=own_session,
                             stdout=slave if out == "tty" else files[0],
                             stderr=slave if err == "tty" else files[1])
    got = b""
    while True:
        over = child.poll() is not None
        while select.select([master], [], [], 0 if over else 0.05)[0]:
            got += os.read(master, 65536)
        if over:
            break
    os.close(master)
    os.close(slave)
    kept = []
    for f in files:
        f.seek(0)
        kept.append(f.read())
    return got, kept[0], kept[1], child.returncode


def screen(bytes_):
    """Lines as they stand when all is written: of control sequences only \\r and "wipe to the end"."""
    lines, line, at = [], [], 0
    text = MARK.sub(b"", bytes_)
    i = 0
    while i < len(text):
        if text[i:i + 3] == b"\x1b[K":
            line = line[:at]
            i += 3
            continue
        c = text[i:i + 1]
        assert c != b"\x1b", text[i:i + 10]
        if c == b"\r":
            at = 0
        elif c == b"\n":
            lines.append(b"".join(line))
            line, at = [], 0
        else:
            line[at:at + 1] = [c]
            at += 1
        i += 1
    return lines + ([b"".join(line)] if line else [])


def words(text):
    """Without marks, line breaks and the rules under headings."""
    return re.sub(rb"(?m)^[-=]+$", b"", MARK.sub(b"", text)).split()


def widest(text):
    return max(len(line) for line in MARK.sub(b"", text).split(b"\n"))


def marks():
    plain = run(PLAN, out="file")[1]
    expect(b"\x1b" not in plain and widest(plain) <= 80, "a file has no marks, and 80 columns")
    tty, _, _, status = run(PLAN)
    expect(status == 1, "exit status on a terminal")
    expect(b"\x1b[1;31mNOT\x1b[0m \x1b[1;31mREADY" in tty, "NOT READY stands out")
    expect(b"\x1b[1;31mBLOCKS\x1b[0m" in tty and b"\x1b[1;31mIF NOT\x1b[0m" in tty,
           "BLOCKS and IF NOT stand out")
    expect(b"\x1b[1mFINDINGS\x1b[0m" in tty, "headings are bold")
    expect(MARK.sub(b"", tty) == plain, "without its marks it is the plain text")
    for env, marked in (({"NO_COLOR": "1"}, False), ({"NO_COLOR": ""}, True), ({"TERM": "dumb"}, False),
                        ({"TERM": None}, False), ({"TERM": ""}, False), ({"NO_COLOR": "0"}, False)):
        tty = run(PLAN, env=env)[0]
        expect((b"\x1b" in tty) == marked, "marks with %s" % env)
        expect(MARK.sub(b"", tty) == plain, "text with %s" % env)
    ready = run(PLAN + ["--accept", "L6:S-4,I3:MV-1"])[0]
    expect(b"\x1b[1mREADY\x1b[0m" in ready, "READY is bold, no more")
    no = run(["plan", TUTORIAL, "--target", "CV-1", "--grade", "single"])[0]
    expect(b"\x1b[1;31mCANNOT\x1b[0m" in no, "CANNOT BE ISOLATED stands out")
    relief = run(["relief", os.path.join(SOURCE, "plants-demo/cold-store.xml")])[0]
    expect(b"\x1b[1;31mgaps\x1b[0m" in relief, "gaps stand out")
    tty, _, _, _ = run(["check", TUTORIAL])
    expect(b"\x1b[33mwarning:\x1b[0m STILL-0510" in tty and b"\x1b[33m2 warnings\x1b[0m" in tty,
           "warnings stand out")
    tty, _, _, status = run(["check", os.path.join(SOURCE, "tests/bad/STILL-0301-kind.xml")])
    expect(b"\x1b[1;31merror:\x1b[0m STILL-0301" in tty and status == 3, "errors stand out")
    tty = run(["plan", TUTORIAL])[0]
    expect(tty.startswith(b"\x1b[1;31mstillset:\x1b[0m plan needs --target"), "wrong use stands out")


def streams_apart():
    """Each stream is looked at by itself; what is no text form is never marked."""
    tty, out, err, _ = run(["check", TUTORIAL], out="file")
    expect(b"\x1b[33mwarning:" in tty and b"\x1b" not in out, "stdout a file, stderr a terminal")
    tty, out, err, _ = run(["check", TUTORIAL], err="file")
    expect(b"warning:" in err and b"\x1b" not in err and b"\x1b[33m2" in tty,
           "stdout a terminal, stderr a file")
    for form in ("json", "csv", "svg"):
        plain = run(PLAN + ["--format", form], out="file")[1]
        expect(run(PLAN + ["--format", form], columns=120)[0] == plain, "--format %s on a terminal" % form)
    with tempfile.TemporaryDirectory() as folder:
        name = os.path.join(folder, "plan.txt")
        tty, _, _, status = run(PLAN + ["-o", name], columns=120)
        expect(open(name, "rb").read() == run(PLAN, out="file")[1] and status == 1, "-o is plain")
        expect(b"NOT READY: 2 findings block" in tty, "the answer of what went to a file")
        tty, _, _, status = run(PLAN + ["-o", name, "--quiet"])
        expect(tty == b"" and status == 1, "the answer of what went to a file, --quiet")
        record = os.path.join(folder, "plan.json")
        run(PLAN + ["--format", "json", "-o", record])
        expect(run(["verify", TUTORIAL, record])[0].startswith(b"\x1b[1magrees\x1b[0m: "), "agrees")


def widths():
    plain = run(PLAN, out="file")[1]
    for columns, env, want in ((40, None, 60), (60, None, 60), (100, None, 100), (120, None, 120),
                               (200, None, 120), (0, {"COLUMNS": "90"}, 90), (0, {"COLUMNS": "x"}, 80),
                               (0, {"COLUMNS": "9x"}, 80), (0, {"COLUMNS": ""}, 80), (0, None, 80),
                               (70, {"COLUMNS": "90"}, 70)):
        tty = run(PLAN, columns=columns, env=env)[0]
        rule = max(len(line) for line in tty.split(b"\n") if line.strip(b"=") == b"")
        expect(rule == want and widest(tty) <= max(want, 64 + 6),
               "%d columns, %s: %d, widest %d" % (columns, env, rule, widest(tty)))
        expect(words(tty) == words(plain), "words at %d columns" % columns)
    expect(run(PLAN, out="file", env={"COLUMNS": "100"})[1] == plain, "COLUMNS is not for files")
    relief = run(["relief", TUTORIAL], columns=110)[0]
    expect(words(relief) == words(run(["relief", TUTORIAL], out="file")[1]), "words of relief")


def quiet():
    tty, out, err, status = run(["check", TUTORIAL, "--quiet"], out="file", err="file")
    expect(err == b"" and b"2 warnings" in out and status == 0, "check --quiet")
    bad = os.path.join(SOURCE, "tests/cli/plants/bad.xml")
    loud, soft = run(["check", bad], out="file", err="file"), run(["check", "--quiet", bad], out="file", err="file")
    expect(loud == soft and soft[3] == 3 and b"error: STILL-0305" in soft[2], "errors are said with --quiet")
    accept = PLAN + ["--accept", "L6:NO"]
    loud, soft = run(accept, out="file", err="file"), run(accept + ["--quiet"], out="file", err="file")
    expect(b"note: --accept" in loud[2] and soft[2] == b"", "no note with --quiet")
    expect(loud[1] == soft[1] and loud[3] == soft[3] == 1, "same result with --quiet")
    expect(run(["plan", TUTORIAL, "--quiet"])[3] == 2, "wrong use with --quiet")


def slow_plant(folder):
    """A plant whose closed-in liquid takes well over two seconds here."""
    name, size = os.path.join(folder, "slow.xml"), 20000
    while True:
        with open(name, "wb") as to:
            subprocess.run([sys.executable, os.path.join(SOURCE, "tools/genplant"), str(size)], stdout=to, stderr=subprocess.DEVNULL,
                           check=True)
        start = time.monotonic()
        plain = run(["relief", name], out="file", err="file")
        if time.monotonic() - start > 2.5 or size > 600000:
            return name, plain
        size *= 2


def progress():
    with tempfile.TemporaryDirectory() as folder:
        name, plain = slow_plant(folder)
        expect(plain[2] == b"", "no progress in a file")
        tty, out, _, status = run(["relief", name], out="file", columns=70)
        ticks = re.findall(rb"\rlooking for closed-in liquid in [^\r\x1b]* \.\.\. (\d+) s\x1b\[K", tty)
        expect(len(ticks) >= 2 and ticks[0] == b"1", "a line a second: %r" % ticks)
        expect([int(t) for t in ticks] == sorted(set(int(t) for t in ticks)), "seconds go up: %r" % ticks)
        expect(tty.endswith(b"\r\x1b[K") and screen(tty) in ([], [b""]), "nothing stays: %r" % tty[-80:])
        expect(all(len(part) <= 70 for part in tty.split(b"\r")), "one line holds it")
        expect(out == plain[1] and status == plain[3], "result and exit status are the same")
        tty, _, _, status = run(["relief", name], env={"NO_COLOR": "1"})
        expect(b" ... 1 s" in tty and status == plain[3], "progress without colour")
        expect(b"\n".join(screen(tty)) == plain[1].rstrip(b"\n"), "it is wiped before the result")
        for args, env in (([], {"TERM": "dumb"}), (["--quiet"], None)):
            tty = run(["relief", name] + args, out="file", env=env)[0]
            expect(tty == b"", "no progress with %s %s" % (args, env))
        # A message in the middle: the older revision is bad, which is found after the work.
        bad = os.path.join(SOURCE, "tests/bad/STILL-0301-kind.xml")
        tty, _, _, status = run(["relief", name, "--since", bad], out="file")
        expect(status == 3 and b" ... 1 s" in tty, "a message after a while")
        expect(screen(tty)[0].startswith(bad.encode() + b":3: error: STILL-0301"), "it is wiped before a message")
    expect(b" s\x1b[K" not in run(["check", TUTORIAL])[0], "no progress within a second")


for part in (marks, streams_apart, widths, quiet, progress):
    part()
print("%d failed" % failed)
sys.exit(1 if failed else 0)
