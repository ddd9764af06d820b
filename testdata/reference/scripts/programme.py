# Makes the problems of ../programme and their optima by CBC, a mixed-integer solver, with whole
# villages and with parts of them (relaxed). Each
# problem is drawn by Python's generator and written out as a linear programme straight from
# the rules: every column of every village, dominated or not, a variable for each trip, and
# the worst fifth by the linear form of Rockafellar and Uryasev (2000).
# Run in this folder: python3 programme.py; needs cbc (Debian coinor-cbc).
import csv, json, random, re, subprocess, tempfile, os

def problem(rng, villages, options, rounds, districts, windows, share, scenarios=1, floors=(), must=(), caution=0.0, **rules):
    p = {"Rounds": [{"ID": "r%d" % k, "Cost": round(rng.uniform(50, 300)), "Weeks": round(rng.uniform(.1, .5), 2)} for k in range(rounds)],
         "Villages": [], "Floors": list(floors), "Must": list(must),
         "Rules": {"WalkM": 500, "LeastChance": 0.2, "SecondTry": True, "SecondPoint": True, "Gap": 0, "Effort": 2000, "Caution": caution, **rules}}
    ground = [[rng.gauss(0, 1) for _ in range(scenarios)] for _ in range(max(rounds, 1))]
    for i in range(villages):
        v = {"ID": "v%02d" % i, "District": "d%d" % (i % districts), "Round": "r%d" % (i % rounds) if rounds else "", "Unserved": rng.randint(20, 700), "Options": []}
        for o in range(options):
            chance = rng.uniform(.15, .95)
            c = [round(chance, 3)] if scenarios == 1 else [int(rng.random() + .2 * g < chance) for g in ground[i % max(rounds, 1)]]
            v["Options"].append({"Spot": "s%d" % (o // 2), "Method": ["auger", "sludging"][o % 2], "WalkM": round(rng.uniform(0, 520)), "Chances": c,
                "People": rng.choice([150, 250, 300]), "Cost": round(rng.uniform(600, 2200)), "Weeks": round(rng.uniform(.4, 2), 2)})
        p["Villages"].append(v)
    money = sum(v["Options"][0]["Cost"] for v in p["Villages"])
    weeks = sum(v["Options"][0]["Weeks"] for v in p["Villages"])
    p["Budget"] = round(share * money)
    p["Windows"] = [{"Name": "w%d" % w, "Weeks": round(share * weeks * rng.uniform(.7, 1.3) / windows, 2)} for w in range(windows)]
    return p

def columns(p, v):
    r, n = p["Rules"], max(len(o["Chances"]) for x in p["Villages"] for o in x["Options"])
    at = lambda o, s: o["Chances"][s if len(o["Chances"]) > 1 else 0]
    ok = [o for o in v["Options"] if o["WalkM"] <= r["WalkM"] and sum(o["Chances"]) / len(o["Chances"]) >= r["LeastChance"]]
    cap = lambda k: min(v["Unserved"], k)
    out = []
    for i, a in enumerate(ok):
        out.append((a["Cost"], a["Weeks"], [at(a, s) * cap(a["People"]) for s in range(n)]))
        for j, b in enumerate(ok):
            apart = a["Spot"] != b["Spot"]
            if r["SecondTry"] and i != j and (apart or a["Method"] != b["Method"]):
                fails = sum(1 - at(a, s) for s in range(n)) / n
                rescue = [(1 - at(a, s)) * at(b, s) if apart else max(0, at(b, s) - at(a, s)) for s in range(n)]
                out.append((a["Cost"] + fails * b["Cost"], a["Weeks"] + fails * b["Weeks"],
                    [at(a, s) * cap(a["People"]) + rescue[s] * cap(b["People"]) for s in range(n)]))
            if r["SecondPoint"] and i < j and apart:
                out.append((a["Cost"] + b["Cost"], a["Weeks"] + b["Weeks"],
                    [at(a, s) * at(b, s) * cap(a["People"] + b["People"]) + at(a, s) * (1 - at(b, s)) * cap(a["People"]) + (1 - at(a, s)) * at(b, s) * cap(b["People"]) for s in range(n)]))
    return out, n

def lp(p):
    W, kappa = range(len(p["Windows"])), p["Rules"]["Caution"]
    obj, money, weeks, rest, binary = [], [], [[] for _ in W], [], []
    villages, people, served = {}, {}, None
    term = lambda c, x: "%+.15g %s" % (c, x)
    for v in p["Villages"]:
        cols, n = columns(p, v)
        served = served or [[] for _ in range(n)]
        all_, by = [], {w: [] for w in W}
        for c, (cost, week, s) in enumerate(cols):
            for w in W:
                x = "x_%s_%d_%d" % (v["ID"], c, w)
                binary.append(x); all_.append(term(1, x)); by[w].append(term(1, x))
                mean = sum(s) / n
                obj.append(term((1 - kappa) * mean, x)); money.append(term(cost, x)); weeks[w].append(term(week, x))
                villages.setdefault(v["District"], []).append(term(1, x)); people.setdefault(v["District"], []).append(term(mean, x))
                if kappa:
                    for k in range(n): served[k].append(term(s[k], x))
        if all_:
            rest.append(" + ".join(all_) + (" = 1" if v["ID"] in p["Must"] else " <= 1"))
        for w in W:
            if v["Round"] and by[w]: rest.append("\n".join(by[w]) + " - y_%s_%d <= 0" % (v["Round"], w))
    for r in p["Rounds"]:
        for w in W:
            y = "y_%s_%d" % (r["ID"], w)
            binary.append(y); money.append(term(r["Cost"], y)); weeks[w].append(term(r["Weeks"], y))
    rest.append("\n".join(money) + " <= %.15g" % p["Budget"])
    for w in W: rest.append("\n".join(weeks[w]) + " <= %.15g" % p["Windows"][w]["Weeks"])
    for f in p["Floors"]:
        if f["Villages"]: rest.append("\n".join(villages[f["District"]]) + " >= %d" % f["Villages"])
        if f["People"]: rest.append("\n".join(people[f["District"]]) + " >= %.15g" % f["People"])
    free = []
    if kappa:
        n = len(served)
        obj.append(term(kappa, "t"))
        for k in range(n):
            obj.append(term(-kappa / (.2 * n), "u%d" % k))
            rest.append("u%d - t\n%s >= 0" % (k, "\n".join(served[k])))
        free = ["t"]
    return "Maximize\n obj: " + "\n".join(obj) + "\nSubject To\n" + "\n".join("c%d: %s" % (i, r) for i, r in enumerate(rest)) + "\nBounds\n" + "\n".join(x + " free" for x in free) + "\nBinary\n" + "\n".join(binary) + "\nEnd\n"

def solve(p):
    with tempfile.TemporaryDirectory() as d:
        open(os.path.join(d, "p.lp"), "w").write(lp(p).replace("+ +", "+"))
        cbc = lambda *what: subprocess.run(["cbc", "p.lp", *what], cwd=d, capture_output=True, text=True).stdout
        relaxed = re.search(r"Optimal - objective value (\S+)", cbc("initialSolve"))
        out = cbc("ratio", "0", "allow", "1e-7", "sec", "900", "solve")
    status = "optimal" if "Result - Optimal solution found" in out else "infeasible" if "infeasible" in out.lower() else "not settled"
    value = re.search(r"Objective value:\s+(\S+)", out)
    return status, abs(float(value.group(1))) if value and status == "optimal" else "", abs(float(relaxed.group(1))) if relaxed else ""

rng = random.Random(20261126)
floor = lambda d, v, n: {"District": d, "Villages": v, "People": n}
cases = {
    "plain": problem(rng, 40, 4, 6, 2, 2, .25),
    "no-rounds": problem(rng, 60, 3, 0, 2, 1, .3),
    "floors": problem(rng, 40, 3, 5, 4, 2, .3, floors=[floor("d3", 5, 0), floor("d1", 0, 700)], must=["v07", "v22"]),
    "too-much": problem(rng, 30, 3, 5, 3, 1, .15, floors=[floor("d0", 3, 0), floor("d1", 3, 0), floor("d2", 2, 0)]),
    "cautious": problem(rng, 20, 3, 4, 2, 1, .3, scenarios=25, caution=.6),
}
with open("../programme/optima.csv", "w", newline="") as f:
    w = csv.writer(f, lineterminator="\n")
    w.writerow(["problem", "status", "optimum", "relaxed"])
    for name, p in cases.items():
        json.dump(p, open("../programme/%s.json" % name, "w"), separators=(",", ":"))
        w.writerow([name, *solve(p)])
        f.flush()
