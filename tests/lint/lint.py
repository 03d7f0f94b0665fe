#!/usr/bin/env python3
"""The linter: lint.py BUILD changed|all.

Each source file is compiled by itself, so that it includes what it uses whatever batch it is built in, with every
warning. clang-tidy sees the files of a folder together: one by one most of its time goes into headers, and its
analyser looks into all that it sees.

`changed` takes the files that differ from the commit at which the whole tree was last found clean
(tests/lint/clean-at names it), and all but tests that include them.

BUILD is a folder that cmake has configured for clang with COLDBAY_BATCH=1; nothing in it need be compiled.
"""
import concurrent.futures
import json
import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
MARK = ROOT / "tests/lint/clean-at"
RULES = [".clang-tidy", "CMakeLists.txt", "tests/CMakeLists.txt", "tests/lint/lint.py"]  # a change of these concerns all
BATCH = 16  # files of a folder that clang-tidy reads as one


def git(*words):
    return subprocess.run(["git", "-C", str(ROOT), *words], capture_output=True, text=True)


def sources():
    """All C++ files, new ones too, by their place below the root."""
    listed = git("ls-files", "--cached", "--others", "--exclude-standard", "--", "*.cpp", "*.hpp").stdout.split("\n")
    return sorted({f for f in listed if f and (ROOT / f).exists()})


def changed_since_clean():
    """The files that differ from the clean commit, or None where all are to be looked at; and why."""
    if not MARK.exists():
        return None, "there is no tests/lint/clean-at"
    commit = MARK.read_text().split()[0]
    if git("cat-file", "-e", commit + "^{commit}").returncode != 0:
        return None, f"the commit {commit[:12]} is not here"
    names = git("diff", "--name-only", commit).stdout.split("\n")
    names += git("ls-files", "--others", "--exclude-standard").stdout.split("\n")
    rules = [name for name in names if name in RULES]
    if rules:
        return None, f"{rules[0]} has changed"
    return {name for name in names if name}, f"changed since {commit[:12]}"


def with_those_that_include(changed, files):
    included = {f: set(re.findall(r'^#include "([^"]+)"', (ROOT / f).read_text(), re.M)) for f in files}
    chosen = set(changed)
    while True:
        more = {f for f in files if f not in chosen and included[f] & chosen}
        if not more:
            return {f for f in chosen if f in changed or not f.startswith("tests/")}
        chosen |= more


def unit_files(files, build):
    """Writes files that include up to BATCH sources of one folder each. The analyser looks into a main file alone,
    or into what a file of that name includes."""
    folders = {}
    for f in files:
        folders.setdefault(str(Path(f).parent), []).append(f)
    units = []
    for folder, members in sorted(folders.items()):
        n = -(-len(members) // BATCH)
        for k in range(n):
            part = members[k * len(members) // n:(k + 1) * len(members) // n]
            unit = build / f"UnifiedSource-{folder.replace('/', '_')}_{k}.cpp"
            unit.write_text("".join(f'#include "{ROOT / f}"  // NOLINT(bugprone-suspicious-include)\n' for f in part))
            units.append((unit, part))
    return units


def main():
    build, which = Path(sys.argv[1]).resolve(), sys.argv[2]
    commands = {}
    for entry in json.loads((build / "compile_commands.json").read_text()):
        path = Path(entry["file"])
        if path.is_relative_to(ROOT) and not path.is_relative_to(build):
            words = shlex.split(entry["command"])
            commands[str(path.relative_to(ROOT))] = words[:words.index("-o")]
    files = sources()
    changed, why = (None, "all") if which == "all" else changed_since_clean()
    if changed is not None:
        files = sorted(with_those_that_include(changed & set(files), files))
    compiled = [f for f in files if f in commands]
    left = [f for f in files if f.endswith(".cpp") and f not in commands and not f.startswith("tests/bench/")]
    if left:
        sys.exit(f"not part of any target, so not looked at: {' '.join(left)}")
    units = unit_files([f for f in compiled if not f.startswith("tests/")], build)

    jobs = []
    for unit, part in units:
        flags = list(dict.fromkeys(flag for f in part for flag in commands[f][1:] if flag.startswith("-D")))
        flags += [flag for flag in commands[part[0]][1:] if flag != "-Werror" and not flag.startswith("-D")]
        jobs.append((10, ["clang-tidy-14", f"--config-file={ROOT / '.clang-tidy'}", "--quiet",
                          "--warnings-as-errors=*", str(unit), "--", *flags]))
    jobs += [(1, [*commands[f], "-fsyntax-only", str(ROOT / f)]) for f in compiled]
    jobs.sort(key=lambda job: -job[0])  # long ones first

    def run(job):
        done = subprocess.run(job[1], capture_output=True, text=True, cwd=build)
        said = done.stdout + done.stderr
        counts = r"^\d+ warnings? .*(generated|treated as errors)\.?\n"
        return "" if done.returncode == 0 else re.sub(counts, "", said, flags=re.M)

    failed = 0
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        for said in pool.map(run, jobs):
            if said:
                failed += 1
                print(said, flush=True)
    print(f"{why}: {len(compiled)} files, {sum(len(p) for _, p in units)} of them by clang-tidy in {len(units)} units")
    sys.exit(1 if failed else 0)


if __name__ == "__main__":
    main()
