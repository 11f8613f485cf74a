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
SD = {"wrap": 0.2, "tension": 0.15, "stitch": 0.12, "tool": 0.05, "blend": 0.06, "grist": 0.02, "making": 0.04, "garment": 0.03}
MAKING, PIECE, UNRAVELLED, BALL = 0.04, 0.02, 0.02, 0.015


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
            project["weighings"].append((int(values[0]), int(values[1]), *map(float, values[2:]), []))
        elif record == "part":
            uses = []
            project["weighings"][-1][-1].append((float(values[0]), int(values[1]), uses))
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
    """(kind, key) -> (place, prior mean, prior spread), in the order met."""
    found = {}

    def meet(kind, key, mean=0.0, sd=None):
        found.setdefault((kind, key), (len(found), mean, SD[kind] if sd is None else sd))

    def meet_scale(step, accuracy):
        meet("scale", f"{step:g}:{accuracy:g}", 0.0, accuracy / np.sqrt(3))

    def worked(tool, uses, with_grist, garment, only=-1):
        for combination, _, _, kinds in uses:
            if only >= 0 and only not in [yarn for yarn, _ in project["combinations"][combination]]:
                continue
            for stitch, _ in kinds:
                family, _, wraps = stitches[stitch]
                meet("stitch", stitch)
                meet("tension", family)
                if garment:
                    meet("garment", family)
                if wraps:
                    meet("wrap", 0, np.log(WRAP_RATIO))
            if kinds:
                meet("tool", tool)
                meet("blend", blend(project, combination))
            for yarn, _ in project["combinations"][combination] if with_grist else []:
                name, put_up, length, _, weighs, weighs_sd = project["yarns"][yarn][:6]
                if only < 0 or yarn == only:
                    meet("grist", name, np.log(put_up / length))
                    meet("ball", name, weighs, weighs_sd)

    for tool, uses in project["lines"]:
        worked(tool, uses, True, True)
    for tool, mass, step, accuracy, unravelled, _, uses in project["swatches"]:
        if mass or unravelled:
            worked(tool, uses, mass > 0, False)
        if mass:
            meet_scale(step, accuracy)
    for size, yarn, _, _, step, accuracy, parts in project["weighings"]:
        for tool, _, uses in parts:
            worked(tool, uses, True, True, yarn)
        meet_scale(step, accuracy)
        meet("making", size)
    for name, _, _, _, _, _, count, _, step, accuracy in project["yarns"]:
        if count and ("ball", name) in found:
            meet_scale(step, accuracy)
    return found


def strand_length(stitches, project, x, place, tool, combination, kinds, garment):
    d = np.sqrt(sum(t * project["yarns"][y][3] ** 2 for y, t in project["combinations"][combination]))
    total = 0
    for stitch, count in kinds:
        family, loops, wraps = stitches[stitch]
        y = loops + (np.exp(x[place["wrap", 0][0]]) * wraps if wraps else 0)
        log = (x[place["tension", family][0]] + x[place["stitch", stitch][0]] + x[place["tool", tool][0]]
               + x[place["blend", blend(project, combination)][0]])
        if garment:
            log = log + x[place["garment", family][0]]
        total = total + count * y * np.pi * (tool + d) * 1e-3 * np.exp(log)
    return total


def mass_of(stitches, project, x, place, tool, uses):
    total = 0
    for combination, cut, ends, kinds in uses:
        w = strand_length(stitches, project, x, place, tool, combination, kinds, False)
        for (yarn, times), e in zip(project["combinations"][combination], ends):
            g = np.exp(x[place["grist", project["yarns"][yarn][0]][0]] + x[place["ball", project["yarns"][yarn][0]][0]])
            total = total + times * g * (w + e * project["tail"] + cut)
    return total


def length_of(stitches, project, x, place, tool, uses):
    total = 0
    for combination, cut, ends, kinds in uses:
        total = total + strand_length(stitches, project, x, place, tool, combination, kinds, False) + ends[0] * project["tail"] + cut
    return total


def so_far(stitches, project, x, place, yarn, label, tool, uses):
    """Grams of one copy of a part, of the label or on the scale: what its stitches took, the day left out, and its ends; of one
    yarn, or of all (-1)."""
    took, loose = 0, 0
    for combination, cut, ends, kinds in uses:
        strands = [s for s in zip(project["combinations"][combination], ends) if yarn < 0 or s[0][0] == yarn]
        for (u, times), e in strands:
            name = project["yarns"][u][0]
            g = np.exp(x[place["grist", name][0]] + (0 if label else x[place["ball", name][0]]))
            took = took + times * g * strand_length(stitches, project, x, place, tool, combination, kinds, True)
            loose = loose + times * g * (e * project["tail"] + cut)
    return took, loose


def weighing(stitches, project, x, place, size, yarn, label, parts):
    day = np.exp(x[place["making", size][0]])
    grams = [(copies, *so_far(stitches, project, x, place, yarn, label, tool, uses)) for tool, copies, uses in parts]
    return sum(copies * (day * took + loose) for copies, took, loose in grams)


def data(stitches, project, place):
    """(ln of what is expected less ln of what was read, as a function of x; its standard uncertainty)"""
    found = []

    def off_scale(x, step, accuracy, grams):
        """What the scale shows too much, of a reading of so many grams."""
        return x[place["scale", f"{step:g}:{accuracy:g}"][0]] / grams

    for tool, mass, step, accuracy, unravelled, tape_step, uses in project["swatches"]:
        def m(x, tool=tool, uses=uses, mass=mass, step=step, accuracy=accuracy):
            return np.log(mass_of(stitches, project, x, place, tool, uses)) - np.log(mass) + off_scale(x, step, accuracy, mass)

        def l(x, tool=tool, uses=uses, unravelled=unravelled):
            return np.log(length_of(stitches, project, x, place, tool, uses)) - np.log(unravelled)

        um2 = step ** 2 / 12
        ul2 = tape_step ** 2 / 12 + (UNRAVELLED * unravelled) ** 2
        if mass:
            found.append((m, np.sqrt(um2 / mass ** 2 + MAKING ** 2 + PIECE ** 2)))
        elif unravelled:
            found.append((l, np.sqrt(ul2 / unravelled ** 2 + MAKING ** 2 + PIECE ** 2)))
        if mass and unravelled:
            found.append((lambda x, m=m, l=l: m(x) - l(x), np.sqrt(um2 / mass ** 2 + ul2 / unravelled ** 2)))
    mean = np.array([m for _, m, _ in place.values()])
    for size, yarn, mass, hand, step, accuracy, parts in project["weighings"]:
        ball = ("ball", project["yarns"][yarn][0])
        used = hand - mass * np.exp(-mean[place[ball][0]]) if hand else mass

        def m(x, size=size, yarn=yarn, mass=mass, hand=hand, step=step, accuracy=accuracy, parts=parts, ball=ball, used=used):
            expected = np.log(weighing(stitches, project, x, place, size, yarn, hand > 0, parts))
            if not hand:
                return expected - np.log(mass) + off_scale(x, step, accuracy, mass)
            return expected - np.log(hand - mass * np.exp(-x[place[ball][0]])) - off_scale(x, step, accuracy, used)

        pieces = [so_far(stitches, project, mean, place, yarn, hand > 0, tool, uses)[0]
                  for tool, copies, uses in parts for _ in range(copies)]
        s2 = step ** 2 / 12 / used ** 2 + PIECE ** 2 * sum(p ** 2 for p in pieces) / sum(pieces) ** 2
        found.append((m, np.sqrt(s2)))
    for name, put_up, _, _, _, _, count, mass, step, accuracy in project["yarns"]:
        if count and ("ball", name) in place:
            found.append((lambda x, name=name, put_up=put_up, count=count, mass=mass, step=step, accuracy=accuracy:
                          np.log(put_up * count) + x[place["ball", name][0]] - np.log(mass) + off_scale(x, step, accuracy, mass),
                          np.sqrt(step ** 2 / 12 / mass ** 2 + BALL ** 2 / count)))
    return found


# ---- The optimum ----

def solve(stitches, project):
    place = parameters(stitches, project)
    mean = np.array([m for _, m, _ in place.values()])
    sd = np.array([sd for _, _, sd in place.values()])
    readings = data(stitches, project, place)

    def residual(x):
        return np.array([f(x) / s for f, s in readings] + list((x - mean) / sd))

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
            for (kind, key), (i, _, _) in place.items():
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
        fresh = {(number, "parameter", kind, str(key)): x[i] for (kind, key), (i, _, _) in place.items()}
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
        allowance = float(random.choice([0.17, 0.085, 0.12, 0]))
        weighs, weighs_sd = (-0.15 * allowance, 0.15 * allowance) if allowance else (-0.015, 0.02)
        count = int(random.choice([0, 0, 1, 3]))
        step, accuracy = [(1.0, 1.0), (0.1, 0.1), (0.1, 0.5)][random.integers(0, 3)]
        mass = step * round(count * put_up * np.exp(weighs + 2 * weighs_sd * random.standard_normal()) / step)
        project["yarns"].append((name, put_up, length, round(0.108 * (1000 * put_up / length) ** 0.5, 3), weighs, weighs_sd,
                                 count, round(mass, 1), step, accuracy))
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
    shell = dict(project, swatches=[(tool, 1, 1, 1, 1, 1, uses) for tool, _, uses in project["swatches"]])
    place = parameters(STITCHES, shell)
    x = np.array([mean + 2 * sd * random.standard_normal() for _, mean, sd in place.values()])
    swatches = []
    for tool, how, uses in project["swatches"]:
        day = np.exp(np.hypot(MAKING, PIECE) * random.standard_normal())
        scale_step, tape_step = float(random.choice([1, 0.1])), float(random.choice([0.01, 0.001]))
        accuracy = float(random.choice([scale_step, 0.5]))
        mass = max(scale_step, scale_step * round(day * mass_of(STITCHES, project, x, place, tool, uses) / scale_step))
        unravelled = round(day * length_of(STITCHES, project, x, place, tool, uses), 2)
        swatches.append((tool, round(mass, 1) if how in (0, 2, 3) else 0.0, scale_step if how in (0, 2, 3) else 0.0,
                         accuracy if how in (0, 2, 3) else 0.0, unravelled if how in (1, 2) else 0.0, tape_step if how in (1, 2) else 0.0, uses))
    project["swatches"] = swatches


def random_weighings(random, project):
    """Of what is being made in a size: one to three readings, of one part or two, of all yarns or of one."""
    tools = sorted({tool for tool, _ in project["lines"]})
    families = sorted({STITCHES[k][0] for _, uses in project["lines"] for _, _, _, kinds in uses for k, _ in kinds})
    parts = [[(float(random.choice(tools)), int(random.integers(1, 4)), random_uses(random, project, families))
              for _ in range(random.integers(1, 3))] for _ in range(random.integers(1, 4))]
    yarns = [-1 if random.random() < 0.6 else project["combinations"][some[0][2][0][0]][0][0] for some in parts]
    sizes = [int(random.integers(0, 2)) for _ in parts]
    shell = dict(project, weighings=[(size, yarn, 1, 0, 1, 1, some) for size, yarn, some in zip(sizes, yarns, parts)])
    place = parameters(STITCHES, shell)
    x = np.array([mean + 2 * sd * random.standard_normal() for _, mean, sd in place.values()])
    for size, yarn, some in zip(sizes, yarns, parts):
        step, accuracy = [(1.0, 1.0), (0.1, 0.1), (0.1, 0.5)][random.integers(0, 3)]
        left = yarn >= 0 and random.random() < 0.5
        used = weighing(STITCHES, shell, x, place, size, yarn, left, some) * np.exp(PIECE * random.standard_normal())
        hand = float(50 * np.ceil(used / 50 + 1)) if left else 0.0
        mass = (hand - used) * np.exp(x[place["ball", project["yarns"][yarn][0]][0]]) if left else used
        project["weighings"].append((size, yarn, max(step, round(step * round(mass / step), 1)), hand, step, accuracy, some))


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
                  "# project,tail m; yarn,name,put-up g,length m,diameter mm,prior of what it weighs over its label: mean,spread,\n"
                  "# balls weighed,g,scale step g,accuracy g; combination; strand,yarn,times; line,tool mm;\n"
                  "# swatch,tool mm,weight g,scale step g,accuracy g,unravelled m,tape step m (0: not read);\n"
                  "# weighing of the work in hand,size,yarn (-1: all),weight g,in hand g (0: used was weighed, else what is left),\n"
                  "# scale step g,accuracy g; part,tool mm,copies\n"
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
                out.write(f"yarn,{yarn[0]},{','.join(f'{v:.10g}' for v in yarn[1:])}\n")
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
            for *readings, parts in project["weighings"]:
                out.write(f"weighing,{','.join(f'{r:.10g}' for r in readings)}\n")
                for tool, copies, uses in parts:
                    out.write(f"part,{tool:g},{copies}\n")
                    write_uses(out, uses)


if __name__ == "__main__":
    modes = {"generate": generate, "solve": write_results, "check": check}
    if len(sys.argv) != 2 or sys.argv[1] not in modes:
        raise SystemExit(__doc__)
    modes[sys.argv[1]]()
