#!/usr/bin/env python3
"""Makes corpus.tsv: lines in the forms that printed regulations use, with the degrees worked out by fractions.

Nothing here uses the parser. Facts (coordinates, wording patterns) are our own transcription of the forms that are listed in
README.md; the values are invented near Marrowick or elsewhere. Run: python3 make_corpus.py > corpus.tsv
"""
from fractions import Fraction as F

# whole degrees, minutes text, seconds text (None: none), hemisphere
PLACES = [
    (("45", "07.05", None, "N"), ("030", "07.30", None, "W")),
    (("24", "33.70", None, "N"), ("081", "40.80", None, "W")),
    (("38", "23.20", None, "S"), ("174", "46.50", None, "E")),
    (("56", "06", "16", "N"), ("005", "34", "21", "W")),
    (("16", "55", "30.5", "S"), ("179", "58", "00.0", "E")),
    (("05", "00", "09", "S"), ("000", "15", "59", "W")),
]
DECIMAL = [("34.17333", "N", "120.60483", "W"), ("37.75264", "N", "123.01175", "W"), ("16.9251", "S", "179.9667", "E")]

def degrees(parts, letter):
    value = sum((F(part) / 60**i for i, part in enumerate(parts) if part is not None), F(0))
    return -value if letter in "SW" else value

def shown(value):
    return f"{float(value):.10f}"

# {0} {1} {2} are degrees, minutes, seconds; {h} the letter, {H} the word
MINUTES = ["{0}°{1}′ {h}", "{0} deg.{1}′ {h}", "{0}°{1}'{h}", "{0} {1} {h}", "{0}ø{1}' {h}", "{0}<>{1}' {h}", "{0}?{1}' {h}",
           "{0} degrees {1} minutes {H}", "{H} {0}°{1}'", "{h} {0} {1}", "{0}º{1}’{h}", "{0}d{1}m{h}"]
SECONDS = ["{0}°{1}′{2}″ {h}", "{0}°{1}'{2}\" {h}", "{0} {1} {2} {h}", "{0}:{1}:{2}{h}", "{0} deg {1} min {2} sec {h}",
           "{0}°{1}'{2}''{h}", "{H} {0}°{1}′{2}″", "{0}d{1}m{2}s{h}"]
# how a line goes about its position
LINES = ["{a}, {b}", "{a} {b}", "(1) {a}, {b}", "1. {a}, {b};", "A: {a} {b}", "• {a}, {b}", "Point 3: {a} / {b}",
         "thence to {a}, {b};", "1\t{a}\t{b}", "| B | {a} | {b} |", "from {a} and {b}, thence", "corner C ({a}, {b})",
         "thence along a rhumb line to {a}, {b};", "due east for 200 nautical miles to {a}, {b}", "- {a}; {b}",
         "thence 060° true for 1 km to {a}, {b}", "(a) commencing at {a}, {b}"]
WORDS = {"N": "North", "S": "South", "E": "East", "W": "West"}

def coordinate(form, parts, letter):
    return form.format(*[part or "" for part in parts], h=letter, H=WORDS[letter])

def rows():
    count = 0
    for lat, lon in PLACES:
        forms = SECONDS if lat[2] else MINUTES
        for form in forms:
            for take in range(3):
                line = LINES[(count * 5 + take * 7) % len(LINES)]
                count += 1
                a = coordinate(form, lat[:3], lat[3])
                b = coordinate(form, lon[:3], lon[3])
                yield line.format(a=a, b=b), degrees(lat[:3], lat[3]), degrees(lon[:3], lon[3])
    for a, n, b, e in DECIMAL:
        signed = (("-" if n == "S" else "") + a, ("-" if e == "W" else "") + b)
        forms = [(f"{a}° {n}", f"{b}° {e}"), (f"{a} {n}", f"{b} {e}"), (f"{n}{a}", f"{e}{b}"), (f"{a.replace('.', ',')} {n}", f"{b.replace('.', ',')} {e}")]
        for i, (one, other) in enumerate(forms):
            for line in LINES[i:i + 9:2]:
                yield line.format(a=one, b=other), degrees([a], n), degrees([b], e)
        if e == "W":
            for line in ("{a}, {b}", "{a}\t{b}", "1\t{a}\t{b}", "| 2 | {a} | {b} |", "thence to {a}, {b};"):
                yield line.format(a=signed[0], b=signed[1]), degrees([a], n), degrees([b], e)
    printed = [
        ("N. lat. 45°07.05′, W. long. 30°07.30′", ["45", "07.05"], "N", ["30", "07.30"], "W"),
        ("45°07.05′ N. lat., 30°07.30′ W. long.", ["45", "07.05"], "N", ["30", "07.30"], "W"),
        ("latitude 45°07.05′ North and longitude 30°07.30′ West;", ["45", "07.05"], "N", ["30", "07.30"], "W"),
        ("(9) 45° 07′.05 N, 30° 07′.30 W", ["45", "07.05"], "N", ["30", "07.30"], "W"),
        ("To a point (10) 45° 07′.05 N, 30° 07′.30 W;", ["45", "07.05"], "N", ["30", "07.30"], "W"),
        ("48°N, 124°59'W;", ["48"], "N", ["124", "59"], "W"),
        ("thence along the parallel to 48°18'N., 125°18'W.;", ["48", "18"], "N", ["125", "18"], "W"),
        ("\"from the beacon at 30°07.30′ W, 45°07.05′ N\"", ["45", "07.05"], "N", ["30", "07.30"], "W"),
    ]
    for text, lat, n, lon, e in printed:
        yield text, degrees(lat, n), degrees(lon, e)

REFUSED = [
    "57°3−30'N 5°30'W", "57°30' North longitude, 5°30' West longitude", "2830 8003", "134.17333 N, 120.60483 W",
    "33°61.2'N 120°00.0'W", "45°07.05'N 030°07.30'", "45 07.05 | 030 07.30", "thence to 45°07°N 30°07'W", "N45 07 W",
    "45°07.05'N 46°07.05'N", "45.1 N 30.1 W junk 7 N", "45.5°07'N 30°07'W", "A. 45?07.05N 30?07.30W", "45 | 07.05 | 030 | 07.30",
    "thence 060° magnetic for 1 km to 45°07.05'N 030°07.30'W", "45°07.05'N", "-45.1 S, 30.1 W", "45.07.05N 30.07.30W",
    "1 34 17.3 N 120 36.0 W",
]

print("# line\tlatitude\tlongitude; a tab in a line is written \\t; see README.md")
for line, lat, lon in rows():
    print(line.replace("\t", "\\t"), shown(lat), shown(lon), sep="\t")
for line in REFUSED:
    print(line, "refuse", "refuse", sep="\t")
