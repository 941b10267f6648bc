#!/usr/bin/python3
"""The product on plants worked by hand, every grade (I2, I4; the reasons stand in grade_cases.py).

    test_grades_by_hand.py STILLSET_BIN         exit 77 as test_grades
"""

import os
import sys
import tempfile

import grade_search
from common import Checks, RunError, run_plan
from grade_cases import CASES
from grade_plant import GRADES, GradePlant
from test_grades import SKIP, command, complain, refused


def main():
    checks, binary = Checks(quiet=True), sys.argv[1]
    with tempfile.TemporaryDirectory() as folder:
        grade = refused(binary, folder)
        if grade:
            print("skipped: the program does not plan the grade " + grade)
            return SKIP
        path = os.path.join(folder, "plant.xml")
        for case in CASES:
            with open(path, "w", encoding="utf-8") as stream:
                stream.write(case.text)
            plant = GradePlant(case.text, [case.target], case.avoid)
            for grade in GRADES:
                name = "[I2] %s, %s" % (case.name, grade)
                try:
                    record = run_plan(binary, path, case.target, command(path, case, grade)[4:-2])
                except RunError as problem:
                    checks.check(False, name, str(problem))
                    continue
                got = record["feasible"] and (record["cost"]["sources"], record["cost"]["points"])
                if checks.equal(got or None, case.expected[grade], name):
                    bad = complain(plant, grade_search.Search(plant, grade).run(), record)
                    checks.check(not bad, name + ", the plan itself", "; ".join(bad))
    return checks.finish()


if __name__ == "__main__":
    sys.exit(main())
