#!/usr/bin/python3
"""Which small faults in a folder's sources would its own tests let pass?

    tests/mutation/run.py FOLDER --build build/test [--sample 400] [--only lock.cpp,spans.hpp] [--jobs 2] [--again]

FOLDER is sun, room, light or study; its tests (FOLDER_tests) must be built. All mutants (schemata.py says which) are
compiled into one program beside them, in BUILD/mutation/FOLDER; the tests run once to see which test comes past
which mutant, and then for each mutant, quickest first, until one fails. A mutant that no test comes past has
survived. With --again only those that survived the last run are tried: after a test was added.
Needs Debian's python3-clang-19. Prints the share killed, and the survivors by line; survivors.md tells of them.
"""

import argparse
import concurrent.futures
import json
import os
import random
import re
import resource
import shlex
import shutil
import subprocess
import sys
import tempfile
import time

from schemata import Finder, number, rewritten

HERE = os.path.dirname(os.path.realpath(__file__))
SOURCE = os.path.dirname(os.path.dirname(HERE))
# Parts of a module that the tests load when they run.
OTHER_MODULE = ("plan_search.cpp", "plan_dispatch.cpp", "plan_search_none.cpp")


def ninja(build, *arguments):
    return subprocess.run(["ninja", "-C", build, *arguments], check=True, capture_output=True, text=True).stdout


class Program:
    """The mutated folder, compiled and linked with the tests that are built already."""

    def __init__(self, folder, build, jobs):
        self.folder, self.build, self.jobs = folder, os.path.realpath(build), jobs
        self.out = os.path.join(self.build, "mutation", folder)
        self.tree = os.path.join(self.out, "src")
        os.makedirs(os.path.join(self.tree, folder), exist_ok=True)
        self.refused = set()
        names = sorted(os.listdir(os.path.join(SOURCE, "src", folder)))
        self.files = [n for n in names if n.endswith(".cpp") and n not in OTHER_MODULE]
        self.read_commands()

    def read_commands(self):
        commands = json.loads(ninja(self.build, "-t", "compdb"))
        library = "keyhour_base" if self.folder == "study" else "keyhour_core"
        self.tests = {}
        for c in commands:
            if f"/{library}.dir/" in c["output"] and c["output"].endswith(".o"):
                self.command = self.compiler(c)
            if f"tests/CMakeFiles/{self.folder}_tests.dir/" in c["output"]:
                self.tests[c["output"]] = self.compiler(c)
        link = ninja(self.build, "-t", "commands", f"{self.folder}_tests").strip().splitlines()
        link = [line for line in link if f"-o tests/{self.folder}_tests" in line][-1]
        self.link = shlex.split(link.split("&&")[1])

    def compiler(self, entry):
        words = shlex.split(entry["command"])
        if "ccache" in os.path.basename(words[0]):
            words = words[1:]
        skip, kept = False, []
        for word in words:
            if skip:
                skip = False
            elif word in ("-o", "-MF", "-MT", "-c"):
                skip = True
            elif word not in ("-MD", "-Werror"):
                kept.append(word)
        return kept + ["-w", "-g0"], entry["file"]

    def arguments(self):
        """For libclang: no flags but those that say what is read."""
        kept, words = [], self.command[0][1:]
        for i, word in enumerate(words):
            if word.startswith(("-I", "-D", "-std")):
                kept.append(word)
            elif word == "-isystem":
                kept += [word, words[i + 1]]
        return kept

    def find(self):
        finder = Finder(self.folder, os.path.join(SOURCE, "src"))
        # A batch, as the build makes it, reads the headers once; the core has few, and is compiled file by file.
        for name, files in self.batches().items():
            path = os.path.join(self.out, f"read_{name}.cpp")
            with open(path, "w") as file:
                file.writelines(f'#include "{SOURCE}/src/{self.folder}/{f}"\n' for f in files)
            finder.read(path, self.arguments())
        self.finder, self.mutants = finder, number(finder)

    def batches(self):
        if self.folder != "study":
            return {os.path.splitext(f)[0]: [f] for f in self.files}
        size = 13
        return {f"batch_{i // size}": self.files[i:i + size] for i in range(0, len(self.files), size)}

    def remember(self):
        """What the compiler refused last time, if the mutants are the same: it need not refuse it again."""
        self.memory = os.path.join(self.out, "refused.json")
        self.keys = [m.key() for m in self.mutants]
        if os.path.exists(self.memory):
            keys, refused = json.load(open(self.memory))
            if keys == self.keys:
                self.refused = set(refused)

    def write_sources(self):
        changed = set()
        for source in self.finder.sources.values():
            path = os.path.join(self.tree, source.name)
            text = f'#line 1 "{source.name}"\n' + rewritten(source, self.refused)
            if not os.path.exists(path) or open(path).read() != text:
                with open(path, "w") as file:
                    file.write(text)
                changed.add(os.path.basename(path))
        return changed

    def compile_all(self):
        """Compiles what changed; takes back what the compiler refuses, until nothing is."""
        units = {}
        for name, files in self.batches().items():
            path = os.path.join(self.out, f"{name}.cpp")
            with open(path, "w") as file:
                file.writelines(f'#include "{self.folder}/{f}"\n' for f in files)
            units[os.path.join(self.out, name + ".o")] = (self.command[0] + ["-O1"], path, files)
        self.objects = list(units)
        self.remember()
        self.test_objects = {}
        for output, (command, file) in self.tests.items():
            # A test that includes a header of the folder's sources holds its inline functions too.
            if f"/src/{self.folder}/" in ninja(self.build, "-t", "deps", output):
                own = os.path.join(self.out, "test_" + os.path.basename(output))
                self.test_objects[output] = own
                units[own] = (command, self.copied(file), [])
        pending = dict(units)
        if not self.write_sources():
            pending = {o: u for o, u in units.items() if not os.path.exists(o) or o in self.test_objects.values()}
        for _ in range(12):
            self.write_sources()
            with concurrent.futures.ThreadPoolExecutor(self.jobs) as pool:
                faults = dict(zip(pending, pool.map(self.compile_one, pending.items())))
            lines = set().union(*faults.values()) if faults else set()
            if not lines:
                break
            before = len(self.refused)
            self.refused |= {m.id for m in self.mutants if (m.file, m.line) in lines}
            print(f"{len(self.refused) - before} mutants taken back, which do not compile", file=sys.stderr)
            if len(self.refused) == before:
                raise SystemExit(f"does not compile: {sorted(lines)[:9]}")
            headers = any(f.endswith(".hpp") for f, _ in lines)
            names = {os.path.basename(f) for f, _ in lines}
            pending = {o: u for o, u in units.items() if headers or faults.get(o) or names & set(u[2])}
        with open(self.memory, "w") as file:
            json.dump([self.keys, sorted(self.refused)], file)
        own = os.path.join(self.out, "mutants.o")
        subprocess.run(["g++", "-std=c++20", "-O1", "-c", os.path.join(HERE, "mutants.cpp"), "-o", own], check=True)
        self.objects.append(own)

    def copied(self, file):
        """A batch of the tests laid beside the mutated tree: what one names as ../../src is the mutated source then."""
        tests, own = (os.path.join(root, "tests", self.folder) for root in (SOURCE, self.out))
        os.makedirs(own, exist_ok=True)
        for name in os.listdir(tests):
            if name.endswith((".cpp", ".hpp")):
                shutil.copy2(os.path.join(tests, name), own)
        path = os.path.join(own, os.path.basename(file))
        with open(file) as batch, open(path, "w") as written:
            written.write(batch.read().replace(tests + os.sep, own + os.sep))
        return path

    def compile_one(self, item):
        """The lines that the compiler complains of."""
        output, (command, file, _) = item
        # -I of the mutated tree goes before all others.
        words = [command[0], f"-I{self.tree}", f"-I{self.tree}/{self.folder}", f"-I{self.out}/tests/{self.folder}", *command[1:], "-D_GLIBCXX_ASSERTIONS",
                 "-include", os.path.join(HERE, "mutants.hpp"), "-c", file, "-o", output]
        if os.path.exists(output):
            os.remove(output)
        done = subprocess.run(words, cwd=self.build, capture_output=True, text=True)
        if done.returncode == 0:
            return set()
        with open(output + ".log", "w") as log:
            log.write(done.stderr)
        found = re.findall(rf"({self.folder}/[a-z_0-9]+\.[ch]pp):(\d+):\d+: +(?:error|required)", done.stderr)
        lines = {(f, int(line)) for f, line in found}
        if not lines:
            raise SystemExit(done.stderr[:3000])
        return lines

    def build_tests(self):
        words = list(self.link)
        for output, own in self.test_objects.items():
            words = [own if w == output else w for w in words]
        self.tests_program = os.path.join(self.out, f"{self.folder}_tests")
        at = words.index("-o")
        words[at + 1] = self.tests_program
        # Ours come first, so they are taken, and the library's left aside.
        words[at:at] = [*self.objects, "-Wl,--allow-multiple-definition"]
        subprocess.run(words, cwd=self.build, check=True)
        # What the program loads when it runs, it looks for beside itself.
        for name in os.listdir(self.build):
            beside = os.path.join(self.out, name)
            if name.endswith(".so") and not os.path.lexists(beside):
                os.symlink(os.path.join(self.build, name), beside)


class Trial:
    """Runs tests of the program as one mutant or as none."""

    def __init__(self, program):
        self.program = program
        self.scratch = tempfile.mkdtemp(prefix="mutation-")
        self.kills_of = {}      # which tests have seen most until now: they are asked sooner

    def run(self, tests, environment, cpu_s):
        """(exit code, seconds of processor)"""
        with tempfile.NamedTemporaryFile("w", dir=self.scratch, suffix=".txt") as names:
            # In a filter commas part names, and brackets are tags.
            names.write("".join(re.sub(r"([,\[\\])", r"\\\1", t) + "\n" for t in tests))
            names.flush()

            def limit():
                resource.setrlimit(resource.RLIMIT_CPU, (int(cpu_s) + 1, int(cpu_s) + 2))
                resource.setrlimit(resource.RLIMIT_AS, (4 << 30, 4 << 30))
                resource.setrlimit(resource.RLIMIT_CORE, (0, 0))

            began = time.monotonic()
            process = subprocess.Popen([self.program, "--abort", "--warn", "NoTests", "-f", names.name], stdout=subprocess.DEVNULL,
                                       stderr=subprocess.DEVNULL, env={**os.environ, **environment},
                                       preexec_fn=limit, cwd=self.scratch)
            _, status, used = os.wait4(process.pid, 0)
            process.returncode = os.waitstatus_to_exitcode(status)
            return process.returncode, used.ru_utime + used.ru_stime, time.monotonic() - began

    def names(self):
        done = subprocess.run([self.program, "--list-test-names-only"], capture_output=True, text=True)
        return [line for line in done.stdout.splitlines() if line.strip()]

    def look(self, test, longest):
        """(seconds, numbers of the mutants that the test comes past); no numbers where it takes more seconds or fails"""
        with tempfile.NamedTemporaryFile("r", dir=self.scratch) as seen:
            code, cpu, _ = self.run([test], {"KEYHOUR_MUTANTS_SEEN": seen.name}, longest)
            return cpu, frozenset(int(line) for line in seen) if code == 0 and cpu <= longest else None

    def kills(self, mutant, tests, times):
        """The tests are tried in a few programs, so that the quick ones end it quickly."""
        chunk, long = [], 0.0
        for position, test in enumerate(tests):
            chunk.append(test)
            long += times[test]
            if long < 0.15 and position + 1 < len(tests):
                continue
            code, _, _ = self.run(chunk, {"KEYHOUR_MUTANT": str(mutant)}, 6 * long + 2)
            if code != 0:
                for test in chunk:
                    self.kills_of[test] = self.kills_of.get(test, 0) + 1
                return True
            chunk, long = [], 0.0
        return False


def interval(killed, of):
    """Wilson's, 95 %"""
    if of == 0:
        return 0.0, 1.0
    z, p = 1.96, killed / of
    middle, half = p + z * z / 2 / of, z * ((p * (1 - p) + z * z / 4 / of) / of) ** 0.5
    return (middle - half) / (1 + z * z / of), (middle + half) / (1 + z * z / of)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", choices=["sun", "room", "light", "study"])
    parser.add_argument("--build", default="build/test")
    parser.add_argument("--sample", type=int, default=400, help="so many of all, drawn with --seed; 0 is all")
    parser.add_argument("--only", default="", help="of these files alone, parted by commas")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--until", type=float, default=1e9, help="seconds: what is not judged by then is not told of")
    parser.add_argument("--longest", type=float, default=4, help="tests of more seconds are left aside")
    parser.add_argument("--again", action="store_true", help="only the survivors of the last run")
    asked = parser.parse_args()

    program = Program(asked.folder, asked.build, asked.jobs)
    program.find()
    program.compile_all()
    program.build_tests()
    made = [m for m in program.mutants if m.id not in program.refused]
    report = os.path.join(program.out, "report.json")
    wanted = [m for m in made if not asked.only or os.path.basename(m.file) in asked.only.split(",")]
    drawn = wanted if asked.sample == 0 else random.Random(asked.seed).sample(wanted, min(asked.sample, len(wanted)))
    last = {}
    if asked.again:
        last = json.load(open(report))["outcome"]
        drawn = wanted = [m for m in made if m.key() in last]

    trial = Trial(program.tests_program)
    names = trial.names()
    with concurrent.futures.ThreadPoolExecutor(asked.jobs) as pool:
        looks = dict(zip(names, pool.map(lambda n: trial.look(n, asked.longest), names)))
    for name, (cpu, seen) in looks.items():
        if seen is None:
            why = "it takes longer" if cpu > asked.longest else "it fails by itself"
            print(f"left aside, {why}: {name}", file=sys.stderr)
    times = {n: cpu for n, (cpu, seen) in looks.items() if seen is not None}
    print(f"{asked.folder}: {len(made)} mutants ({len(program.refused)} did not compile), {len(times)} tests of "
          f"{sum(times.values()):.1f} s of processor", file=sys.stderr)

    def judge(mutant):
        if last.get(mutant.key()) == "killed":
            return "killed"
        tests = sorted((n for n in times if mutant.id in looks[n][1]),
                       key=lambda n: (0.02 + times[n]) / (1 + trial.kills_of.get(n, 0)))
        if not tests:
            return "not reached"
        return "killed" if trial.kills(mutant.id, tests, times) else "survived"

    began = time.monotonic()

    def judged(mutant):
        if time.monotonic() - began > asked.until:
            return None
        outcome = judge(mutant)
        if outcome != "killed":
            print(f"src/{mutant.file}:{mutant.line}:{mutant.column}: {mutant.change}: {outcome}\n    {mutant.text}",
                  flush=True)
        return outcome

    with concurrent.futures.ThreadPoolExecutor(asked.jobs) as pool:
        outcome = dict(zip((m.id for m in drawn), pool.map(judged, drawn)))
    drawn = [m for m in drawn if outcome[m.id]]
    with open(report, "w") as file:
        json.dump({"outcome": {m.key(): outcome[m.id] for m in drawn}}, file, indent=1)

    killed = sum(o == "killed" for o in outcome.values())
    low, high = interval(killed, len(drawn))
    print(f"{asked.folder}: {killed} of {len(drawn)} mutants killed, {100 * killed / max(1, len(drawn)):.1f} %"
          f" (of all {len(wanted)} between {100 * low:.1f} and {100 * high:.1f} %, 95 % sure)")


if __name__ == "__main__":
    main()
