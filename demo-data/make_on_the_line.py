#!/usr/bin/env python3
# SPDX-License-Identifier: CC0-1.0
"""Makes on-the-line.csv: twelve fixes taken on a morning while the pine was seen over the day beacon.

The pine of this morning stands 20 m south of where landmarks.geojson has it, which `takeline transit calibrate` finds.
Needs the Python package geographiclib. Run it from this folder: python3 make_on_the_line.py > on-the-line.csv
"""
import random

from geographiclib.geodesic import Geodesic

WGS84 = Geodesic.WGS84
BEACON = (45.1252, -30.1310)
PINE = (45.1255, -30.1120)

random.seed(45)
moved = WGS84.Direct(*PINE, 180.0, 20.0)
line = WGS84.Inverse(moved["lat2"], moved["lon2"], *BEACON)
print("lat,lon,time,accuracy_m")
for number, away_m in enumerate([150, 260, 380, 480, 600, 700, 820, 930, 1040, 1150, 1260, 1370]):
    place = WGS84.Direct(*BEACON, line["azi2"], away_m)
    # 2 m of noise on each axis: 68 % of such fixes lie within 3 m
    noisy = WGS84.Direct(place["lat2"], place["lon2"], 0.0, random.gauss(0.0, 2.0))
    noisy = WGS84.Direct(noisy["lat2"], noisy["lon2"], 90.0, random.gauss(0.0, 2.0))
    minutes = 6 * number
    print(f"{noisy['lat2']:.7f},{noisy['lon2']:.7f},2026-07-05T{7 + minutes // 60:02}:{minutes % 60:02}:00Z,3")
