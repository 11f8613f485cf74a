# SPDX-License-Identifier: GPL-3.0-or-later
"""The fit once more, in numpy, sharing no code with the library.

    fit.py generate    writes fit.projects.csv: random projects, readings of simulated makers
    fit.py solve       writes fit.results.csv: optimum, covariance and residuals of each
    fit.py check       solves again and compares with fit.results.csv

Written from the formulas of the model alone. Differences to the library on purpose: derivatives by complex step, all parameters
in one Gauss-Newton (touched or not), covariance by plain inversion.
"""
import os
import sys

import numpy as np

FOLDER = os.path.dirname(os.path.abspath(__file__))
PROJECTS = os.path.join(FOLDER, "fit.projects.csv")
RESULTS = os.path.join(FOLDER, "fit.results.csv")

WRAP_RATIO = 2 / 3
SD = {"wrap": 0.2, "tension": 0.15, "stitch": 0.12, "tool": 0.05, "blend": 0.06, "grist": 0.02, "making": 0.03}
MAKING, PIECE, UNRAVELLED = 0.03, 0.02, 0.02


# ---- Reading ----

def read_projects():
    stitches, projects = [], []
    uses = None  # of the swatch or line read last
    for text in open(PROJECTS, encoding="utf-8"):
        cells = text.strip().split(",")
        record, values = cells[0], cells[1:]
        if record.startswith("#"):
            continue
        if record == "stitch":
            stitches.append((int(values[0]), float(values[1]), float(values[2])))
            continue
        if record == "project":
            projects.append({"tail": float(values[0]), "yarns": [], "combinations": [], "swatches": [], "lines": [],
                             "weighings": []})
        project = projects[-1]
        if record == "yarn":
            project["yarns"].append((values[0], *map(float, values[1:])))
        elif record == "combination":
            project["combinations"].append([])
        elif record == "strand":
            project["combinations"][-1].append((int(values[0]), int(values[1])))
        elif record == "swatch":
            uses = []
            project["swatches"].append((*map(float, values), uses))
        elif record == "weighing":
            project["weighings"].append((int(values[0]), float(values[1]), float(values[2]), []))
        elif record == "part":
            uses = []
            project["weighings"][-1][3].append((float(values[0]), int(values[1]), uses))
        elif record == "line":
            uses = []
            project["lines"].append((float(values[0]), uses))
        elif record == "use":
            uses.append((int(values[0]), float(values[1]), [float(v) for v in values[2:]], []))
        elif record == "kind":
            uses[-1][3].append((int(values[0]), float(values[1])))
    return stitches, projects


# ---- The model ----

def blend(project, combination):
    strands = {}
    for yarn, times in project["combinations"][combination]:
        name = project["yarns"][yarn][0]
        strands[name] = strands.get(name, 0) + times
    return " + ".join(n if t == 1 else f"{n} x{t}" for n, t in sorted(strands.items(), key=lambda s: s[0].lower()))


def parameters(stitches, project):
    """(kind, key) -> (place, prior mean), in the order met."""
    found = {}

    def meet(kind, key, mean=0.0):
        found.setdefault((kind, key), (len(found), mean))

    def worked(tool, uses, with_grist, only=-1):
        for combination, _, _, kinds in uses:
            if only >= 0 and only not in [yarn for yarn, _ in project["combinations"][combination]]:
                continue
            for stitch, _ in kinds:
                family, _, wraps = stitches[stitch]
                meet("stitch", stitch)
                meet("tension", family)
                if wraps:
                    meet("wrap", 0, np.log(WRAP_RATIO))
            if kinds:
                meet("tool", tool)
                meet("blend", blend(project, combination))
            for yarn, _ in project["combinations"][combination] if with_grist else []:
                name, put_up, length, _ = project["yarns"][yarn]
                if only < 0 or yarn == only:
                    meet("grist", name, np.log(put_up / length))

    for tool, uses in project["lines"]:
        worked(tool, uses, True)
    for tool, mass, _, unravelled, _, uses in project["swatches"]:
        if mass or unravelled:
            worked(tool, uses, mass > 0)
    for yarn, _, _, parts in project["weighings"]:
        for tool, _, uses in parts:
            worked(tool, uses, True, yarn)
    if len(project["weighings"]) > 1:
        meet("making", 0)
    return found


def strand_length(stitches, project, x, place, tool, combination, kinds):
    d = np.sqrt(sum(t * project["yarns"][y][3] ** 2 for y, t in project["combinations"][combination]))
    total = 0
    for stitch, count in kinds:
        family, loops, wraps = stitches[stitch]
        y = loops + (np.exp(x[place["wrap", 0][0]]) * wraps if wraps else 0)
        log = (x[place["tension", family][0]] + x[place["stitch", stitch][0]] + x[place["tool", tool][0]]
               + x[place["blend", blend(project, combination)][0]])
        total = total + count * y * np.pi * (tool + d) * 1e-3 * np.exp(log)
    return total


def mass_of(stitches, project, x, place, tool, uses):
    total = 0
    for combination, cut, ends, kinds in uses:
        w = strand_length(stitches, project, x, place, tool, combination, kinds)
        for (yarn, times), e in zip(project["combinations"][combination], ends):
            g = np.exp(x[place["grist", project["yarns"][yarn][0]][0]])
            total = total + times * g * (w + e * project["tail"] + cut)
    return total


def length_of(stitches, project, x, place, tool, uses):
    total = 0
    for combination, cut, ends, kinds in uses:
        total = total + strand_length(stitches, project, x, place, tool, combination, kinds) + ends[0] * project["tail"] + cut
    return total


def so_far(stitches, project, x, place, yarn, tool, uses):
    """Grams of one copy of a part: what its stitches took, the day left out, and its ends; of one yarn, or of all (-1)."""
    took, loose = 0, 0
    for combination, cut, ends, kinds in uses:
        strands = [s for s in zip(project["combinations"][combination], ends) if yarn < 0 or s[0][0] == yarn]
        for (u, times), e in strands:
            g = np.exp(x[place["grist", project["yarns"][u][0]][0]])
            took = took + times * g * strand_length(stitches, project, x, place, tool, combination, kinds)
            loose = loose + times * g * (e * project["tail"] + cut)
    return took, loose


def weighing(stitches, project, x, place, yarn, parts):
    day = np.exp(x[place["making", 0][0]]) if ("making", 0) in place else 1
    grams = [(copies, *so_far(stitches, project, x, place, yarn, tool, uses)) for tool, copies, uses in parts]
    return sum(copies * (day * took + loose) for copies, took, loose in grams)


def data(stitches, project, place):
    """(prediction as a function of x, reading, standard uncertainty of its logarithm)"""
    found = []
    for tool, mass, scale_step, unravelled, tape_step, uses in project["swatches"]:
        def m(x, tool=tool, uses=uses):
            return mass_of(stitches, project, x, place, tool, uses)

        def l(x, tool=tool, uses=uses):
            return length_of(stitches, project, x, place, tool, uses)

        um2 = scale_step ** 2 / 12
        ul2 = tape_step ** 2 / 12 + (UNRAVELLED * unravelled) ** 2
        if mass:
            found.append((m, mass, np.sqrt(um2 / mass ** 2 + MAKING ** 2 + PIECE ** 2)))
        elif unravelled:
            found.append((l, unravelled, np.sqrt(ul2 / unravelled ** 2 + MAKING ** 2 + PIECE ** 2)))
        if mass and unravelled:
            found.append((lambda x, m=m, l=l: m(x) / l(x), mass / unravelled,
                          np.sqrt(um2 / mass ** 2 + ul2 / unravelled ** 2)))
    mean = np.array([m for _, m in place.values()])
    for yarn, mass, scale_step, parts in project["weighings"]:
        def m(x, yarn=yarn, parts=parts):
            return weighing(stitches, project, x, place, yarn, parts)

        pieces = [so_far(stitches, project, mean, place, yarn, tool, uses)[0] for tool, copies, uses in parts for _ in range(copies)]
        s2 = scale_step ** 2 / 12 / mass ** 2 + PIECE ** 2 * sum(p ** 2 for p in pieces) / sum(pieces) ** 2
        found.append((m, mass, np.sqrt(s2 + (0 if len(project["weighings"]) > 1 else MAKING ** 2))))
    return found


# ---- The optimum ----

def solve(stitches, project):
    place = parameters(stitches, project)
    mean = np.array([m for _, m in place.values()])
    sd = np.array([SD[kind] for kind, _ in place])
    readings = data(stitches, project, place)

    def residual(x):
        return np.array([(np.log(f(x)) - np.log(reading)) / s for f, reading, s in readings] + list((x - mean) / sd))

    def jacobian(x):
        h = 1e-40
        return np.array([residual(x + 1j * h * unit).imag / h for unit in np.eye(len(x))]).T

    x = mean.copy()
    for _ in range(200):
        r, j = residual(x), jacobian(x)
        step = np.linalg.lstsq(j, -r, rcond=None)[0]
        shorter = 1.0
        while np.sum(residual(x + shorter * step) ** 2) > np.sum(r ** 2) * (1 + 1e-13) and shorter > 1e-8:
            shorter /= 2
        x = x + shorter * step
        if np.max(np.abs(step) / sd) < 1e-12:
            break
    else:
        raise SystemExit("not converged")
    j = jacobian(x)
    return place, x, np.linalg.inv(j.T @ j), residual(x)[:len(readings)]


def solve_all():
    stitches, projects = read_projects()
    return [solve(stitches, project) for project in projects]


def write_results():
    with open(RESULTS, "w", encoding="utf-8") as out:
        out.write("# SPDX-License-Identifier: GPL-3.0-or-later\n"
                  "# written by fit.py solve: project,number; parameter,kind,key (stitch, family, mm or name),optimum;\n"
                  "# covariance,of one parameter,of another,value; residual,of the datum,value\n")
        for number, (place, x, covariance, residuals) in enumerate(solve_all()):
            out.write(f"project,{number}\n")
            for (kind, key), (i, _) in place.items():
                out.write(f"parameter,{kind},{key},{float(x[i])!r}\n")
            for i in range(len(x)):
                for k in range(i + 1):
                    if abs(covariance[i, k]) > 1e-15:
                        out.write(f"covariance,{i},{k},{float(covariance[i, k])!r}\n")
            for i, r in enumerate(residuals):
                out.write(f"residual,{i},{float(r)!r}\n")


def check():
    stored, worst = {}, 0.0
    number = -1
    for text in open(RESULTS, encoding="utf-8"):
        cells = text.rstrip("\n").split(",")
        if cells[0] == "project":
            number = int(cells[1])
        elif not cells[0].startswith("#"):
            stored[(number, *cells[:-1])] = float(cells[-1])
    for number, (place, x, covariance, residuals) in enumerate(solve_all()):
        fresh = {(number, "parameter", kind, str(key)): x[i] for (kind, key), (i, _) in place.items()}
        fresh.update({(number, "residual", str(i)): r for i, r in enumerate(residuals)})
        for key in [key for key in stored if key[:2] == (number, "covariance")]:
            fresh[key] = covariance[int(key[2]), int(key[3])]
        missing = [key for key in fresh if key not in stored] + [key for key in stored if key[0] == number and key not in fresh]
        if missing:
            raise SystemExit(f"not in both: {missing[:3]}")
        worst = max([worst] + [abs(fresh[key] - stored[key]) / (abs(stored[key]) + 1e-3) for key in fresh])
    print(f"{len(stored)} stored values, the worst off by {worst:.2g}")
    if not stored or worst > 1e-8:
        raise SystemExit(1)


# ---- Random projects ----

STITCHES = [(0, 1, 0), (0, 2, 0), (0, 2, 1), (0, 2, 2), (0, 2, 4), (0, 4, 3), (1, 2, 0), (2, 1, 0), (2, 1, 0), (0, 0, 0)]
NAMES = ["Alva", "birk", "Cove", "Dune"]


def random_uses(random, project, families):
    allowed = [k for k, (family, loops, _) in enumerate(STITCHES) if family in families and loops]
    uses = []
    for combination in random.choice(len(project["combinations"]), size=random.integers(1, 3), replace=False):
        kinds = [(int(k), float(random.integers(20, 900))) for k in
                 sorted(random.choice(allowed, size=min(len(allowed), random.integers(1, 4)), replace=False))]
        ends = [float(random.integers(0, 4)) for _ in project["combinations"][combination]]
        cut = float(random.choice([0, 0, 0, round(random.uniform(0.1, 2), 2)]))
        uses.append((int(combination), cut, ends, kinds))
    return uses


def random_project(random):
    project = {"tail": float(random.choice([0.15, 0.1, 0])), "yarns": [], "combinations": [], "swatches": [], "lines": [],
               "weighings": []}
    for name in NAMES[:random.integers(1, 5)]:
        length = float(random.integers(60, 420))
        put_up = float(random.choice([50, 100]))
        project["yarns"].append((name, put_up, length, round(0.108 * (1000 * put_up / length) ** 0.5, 3)))
    count = len(project["yarns"])
    for y in range(count):
        project["combinations"].append([(y, 1)])
    project["combinations"].append([(0, 2)])
    if count > 1:
        project["combinations"].append([(count - 1, 1), (0, int(random.integers(1, 3)))])
    families = random.choice([0, 1, 2], size=random.integers(1, 3), replace=False, p=[0.6, 0.15, 0.25])
    tools = random.choice([2.75, 3.5, 4, 5, 6.5], size=2, replace=False)
    for _ in range(random.integers(1, 4)):
        project["lines"].append((float(random.choice(tools)), random_uses(random, project, families)))
    for _ in range(random.integers(1, 7)):
        project["swatches"].append((float(random.choice(tools)), random.integers(0, 4), random_uses(random, project, families)))
    return project


def simulated_readings(random, project):
    """A maker with departures twice as wide as the priors, so that the optimum lies off their middle."""
    shell = dict(project, swatches=[(tool, 1, 1, 1, 1, uses) for tool, _, uses in project["swatches"]])
    place = parameters(STITCHES, shell)
    x = np.array([mean + 2 * SD[kind] * random.standard_normal() for (kind, _), (_, mean) in place.items()])
    swatches = []
    for tool, how, uses in project["swatches"]:
        day = np.exp(np.hypot(MAKING, PIECE) * random.standard_normal())
        scale_step, tape_step = float(random.choice([1, 0.1])), float(random.choice([0.01, 0.001]))
        mass = max(scale_step, scale_step * round(day * mass_of(STITCHES, project, x, place, tool, uses) / scale_step))
        unravelled = round(day * length_of(STITCHES, project, x, place, tool, uses), 2)
        swatches.append((tool, round(mass, 1) if how in (0, 2, 3) else 0.0, scale_step if how in (0, 2, 3) else 0.0,
                         unravelled if how in (1, 2) else 0.0, tape_step if how in (1, 2) else 0.0, uses))
    project["swatches"] = swatches


def random_weighings(random, project):
    """Of what is being made in a size: one to three readings, of one part or two, of all yarns or of one."""
    tools = sorted({tool for tool, _ in project["lines"]})
    families = sorted({STITCHES[k][0] for _, uses in project["lines"] for _, _, _, kinds in uses for k, _ in kinds})
    parts = [[(float(random.choice(tools)), int(random.integers(1, 4)), random_uses(random, project, families))
              for _ in range(random.integers(1, 3))] for _ in range(random.integers(1, 4))]
    yarns = [-1 if random.random() < 0.6 else project["combinations"][some[0][2][0][0]][0][0] for some in parts]
    shell = dict(project, weighings=[(yarn, 1, 1, some) for yarn, some in zip(yarns, parts)])
    place = parameters(STITCHES, shell)
    x = np.array([mean + 2 * SD[kind] * random.standard_normal() for (kind, _), (_, mean) in place.items()])
    for yarn, some in zip(yarns, parts):
        step = float(random.choice([1, 0.1]))
        mass = weighing(STITCHES, shell, x, place, yarn, some) * np.exp(PIECE * random.standard_normal())
        project["weighings"].append((yarn, max(step, round(step * round(mass / step), 1)), step, some))


def write_uses(out, uses):
    for combination, cut, ends, kinds in uses:
        out.write(f"use,{combination},{cut:g},{','.join(f'{e:g}' for e in ends)}\n")
        for stitch, count in kinds:
            out.write(f"kind,{stitch},{count:g}\n")


def generate():
    random = np.random.default_rng(20)
    with open(PROJECTS, "w", encoding="utf-8") as out:
        out.write("# SPDX-License-Identifier: GPL-3.0-or-later\n"
                  "# written by fit.py generate (invented data): stitch,family (0 crochet, 1 tunisian, 2 knit),loops,wraps;\n"
                  "# project,tail m; yarn,name,put-up g,length m,diameter mm; combination; strand,yarn,times;\n"
                  "# line,tool mm; swatch,tool mm,weight g,scale step g,unravelled m,tape step m (0: not read);\n"
                  "# weighing of the work in hand,yarn (-1: all),weight g,scale step g; part,tool mm,copies\n"
                  "# use,combination,cut m,ends of each strand; kind,stitch,count\n")
        for family, loops, wraps in STITCHES:
            out.write(f"stitch,{family},{loops:g},{wraps:g}\n")
        for number in range(32):
            project = random_project(random)
            simulated_readings(random, project)
            if number >= 24:
                random_weighings(random, project)
            out.write(f"project,{project['tail']:g}\n")
            for yarn in project["yarns"]:
                out.write("yarn,%s,%g,%g,%g\n" % yarn)
            for strands in project["combinations"]:
                out.write("combination\n")
                for strand in strands:
                    out.write("strand,%d,%d\n" % strand)
            for tool, uses in project["lines"]:
                out.write(f"line,{tool:g}\n")
                write_uses(out, uses)
            for tool, *readings, uses in project["swatches"]:
                out.write(f"swatch,{tool:g},{','.join(f'{r:.10g}' for r in readings)}\n")
                write_uses(out, uses)
            for yarn, mass, step, parts in project["weighings"]:
                out.write(f"weighing,{yarn},{mass:.10g},{step:g}\n")
                for tool, copies, uses in parts:
                    out.write(f"part,{tool:g},{copies}\n")
                    write_uses(out, uses)


if __name__ == "__main__":
    modes = {"generate": generate, "solve": write_results, "check": check}
    if len(sys.argv) != 2 or sys.argv[1] not in modes:
        raise SystemExit(__doc__)
    modes[sys.argv[1]]()
