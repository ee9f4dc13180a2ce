#!/usr/bin/env python3
"""Optional peers in Python: what shapely (with pyproj) and spherely take for the same fixes, in nanoseconds a fix.

peers.py FOLDER...   each with zones.geojson and fixes.csv; a library that is not there is left out, which is said
"""
import csv
import json
import os
import sys
import time

FIXES = 50_000


def module(name):
    try:
        return __import__(name)
    except ImportError:
        print(f"Left out: there is no {name}.\n")
        return None


def read(folder):
    with open(os.path.join(folder, "zones.geojson"), encoding="utf-8") as file:
        rings = [feature["geometry"]["coordinates"][0] for feature in json.load(file)["features"]]
    with open(os.path.join(folder, "fixes.csv"), encoding="utf-8") as file:
        rows = [(float(row["lon"]), float(row["lat"])) for _, row in zip(range(FIXES), csv.DictReader(file))]
    return rings, rows


def row(folder, what, fixes, ask):
    """The median of three rounds."""
    seconds = []
    for _ in range(3):
        started = time.perf_counter()
        ask()
        seconds.append(time.perf_counter() - started)
    print(f"| {os.path.basename(folder)} | {what} | {sorted(seconds)[1] / fixes * 1e9:.0f} ns |", flush=True)


def with_shapely(shapely, pyproj, folder, rings, places):
    zones = [shapely.Polygon(ring) for ring in rings]
    shapely.prepare(zones)
    points = shapely.points(places)
    boxes = shapely.STRtree(zones)
    row(folder, "shapely, sides on the plane", len(places), lambda: boxes.query(points, predicate="within"))
    if pyproj is None:
        return
    edges = [shapely.LineString(ends) for ring in rings for ends in zip(ring, ring[1:])]
    tree = shapely.STRtree(edges)
    geod = pyproj.Geod(ellps="WGS84")

    def metres():
        nearest = [edges[number] for number in tree.nearest(points)]
        feet = shapely.get_coordinates(shapely.line_interpolate_point(nearest, shapely.line_locate_point(nearest, points)))
        longitudes, latitudes = zip(*places)
        geod.inv(longitudes, latitudes, feet[:, 0], feet[:, 1])

    row(folder, "shapely, nearest edge in degrees, and pyproj's metres", len(places), metres)


def with_spherely(spherely, folder, rings, places):
    # without an index over zones every zone is asked about every fix: only where there is one zone
    if len(rings) > 1:
        return
    # here a ring must not come back to its start
    zone = spherely.create_polygon(rings[0][:-1])
    points = spherely.points(*zip(*places))
    row(folder, "spherely, sides on a sphere", len(places), lambda: spherely.contains(zone, points))
    row(folder, "spherely, metres on a sphere", len(places), lambda: spherely.distance(zone, points))


def main(folders):
    print(f"\n### Peers in Python\n\nThe first {FIXES} fixes of each workload, medians of three rounds, by the clock.\n")
    shapely, pyproj, spherely = module("shapely"), module("pyproj"), module("spherely")
    if shapely is None and spherely is None:
        return
    print("| | peer | a fix |\n|---|---|---|")
    for folder in folders:
        rings, places = read(folder)
        if shapely is not None:
            with_shapely(shapely, pyproj, folder, rings, places)
        if spherely is not None:
            with_spherely(spherely, folder, rings, places)


if __name__ == "__main__":
    main(sys.argv[1:])
