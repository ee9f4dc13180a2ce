"""Writes planimeter.csv: pairs of polygons with geodesic edges whose difference is a polygon too, and its area by GeographicLib."""

import random
from pathlib import Path

from geographiclib.geodesic import Geodesic

WGS84 = Geodesic.WGS84
# centre, mean radius in metres
PLACES = [
    (45.1, -30.1, 100), (45.1, -30.1, 2_000), (45.1, -30.1, 40_000), (24.5, -81.7, 8_000), (-16.6, 179.99, 30_000),
    (-16.6, -179.98, 5_000), (0.0, 6.0, 150_000), (68.0, 12.0, 60_000), (-72.0, 170.0, 20_000), (-34.2, 18.5, 12_000),
    (55.0, -3.0, 300_000), (10.0, 120.0, 700),
]


def at(centre, bearing, metres):
    place = WGS84.Direct(centre[0], centre[1], bearing, metres)
    return (round(place["lat2"], 8), round(place["lon2"], 8))


def area(ring):
    polygon = WGS84.Polygon()
    for lat, lon in ring:
        polygon.AddPoint(lat, lon)
    return abs(polygon.Compute()[2])


def text(ring):
    return ";".join(f"{lat:.8f} {lon:.8f}" for lat, lon in ring)


def main():
    chance = random.Random(13)
    rows = ["case,old,new,gained_m2,lost_m2"]
    for number, (lat, lon, radius) in enumerate(PLACES):
        corners = [at((lat, lon), 60 * k + chance.uniform(-15, 15), radius * chance.uniform(0.8, 1.2)) for k in range(6)]
        # a cap on the first side, another on the fourth: the sides themselves are shared
        caps = []
        for k in (0, 3):
            caps.append(at((lat, lon), 60 * k + 30, radius * chance.uniform(1.4, 2.0)))
        old = corners[:4] + [caps[1]] + corners[4:]
        new = corners[:1] + [caps[0]] + corners[1:]
        if number % 2:
            new = list(reversed(new))
        gained = area([corners[0], caps[0], corners[1]])
        lost = area([corners[3], caps[1], corners[4]])
        rows.append(f"{number},{text(old)},{text(new)},{gained:.4f},{lost:.4f}")
    return "\n".join(rows) + "\n"


if __name__ == "__main__":
    Path(__file__).with_name("planimeter.csv").write_text(main())
