#!/usr/bin/env python3
# test_bars.py - soffit-cli bars as its users call it.  TAP output.
# SPDX-License-Identifier: GPL-3.0-or-later
# Usage: test_bars.py SOFFIT_CLI
import json
import math
import os
import random
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
from tap import check, plan

CLI = os.path.abspath(sys.argv[1])
KEYS = ('file test span_mm inner_mm bars strengths_mpa outlier_lines left_out further_columns m m_band scale_mpa scale_mpa_band '
        'median_mpa median_mpa_band five_of_100_mpa five_of_100_mpa_band mean_mpa mean_mpa_band m_biased class class_sure_percent '
        'effective_surface_mm2').split()
GAINS = ('gain_percent gain_percent_band gain_median_percent gain_median_percent_band m_ratio m_ratio_band likelihood_ratio '
         'same_chance bars_more').split()


def run(*args, **env):
    p = subprocess.run([CLI, 'bars', *args], capture_output=True, text=True, timeout=120, env={**os.environ, **env})
    return p.returncode, p.stdout, p.stderr


def near(got, want, percent):
    return got is not None and abs(got - want) <= abs(want) * percent / 100


def forces(n, scale, modulus, seed):
    """Forces in N of bars 4 x 3 mm, quarter points, span 20: 1 N makes 0.41667 MPa."""
    r = random.Random(seed)
    return [scale * (-math.log(1 - r.random())) ** (1 / modulus) / (3 * 20 / (4 * 4 * 9)) for _ in range(n)]


with tempfile.TemporaryDirectory() as folder:
    def write(name, lines, end='\n'):
        path = os.path.join(folder, name)
        with open(path, 'w', encoding='utf-8', newline='') as f:
            f.write(end.join(lines) + end)
        return path

    def table(name, force, sign='.', sep=',', head='force_n{0}width_mm{0}thickness_mm'):
        return write(name, [head.format(sep)] + [('%.3f%s4%s3' % (f, sep, sep)).replace('.', sign) for f in force])

    milled = table('milled.csv', forces(15, 640, 10, 1))
    gloss = table('gloss.csv', forces(15, 1000, 10, 2), ',', ';')
    code, out, err = run(milled, gloss, '--test', 'four-point-quarter', '--span', '20', '--json')
    rows = [json.loads(line) for line in out.splitlines()]
    check(code == 0 and len(rows) == 3, 'two files: two sets and a comparison', code, out, err)
    check(all(list(row) == KEYS for row in rows[:2]), 'the keys of a set, in order', list(rows[0]))
    check(list(rows[2]) == ['comparison'] and list(rows[2]['comparison']) == GAINS, 'the keys of a comparison', out)
    for row in rows[:2]:
        for key in KEYS:
            if key.endswith('_band'):
                low, high = row[key]
                check(low <= row[key[:-5]] <= high, '%s holds its value' % key, row)
    low, high = rows[2]['comparison']['gain_percent_band']
    check(low < 56 < high, 'gain near the truth of 56', rows[2])
    origins = write('origins.csv', ['force_n,width_mm,thickness_mm,origin_x_mm,origin_y_mm,origin_kind'] +
                    ['%d,4,3,%s' % (1000 + 20 * i, o) for i, o in enumerate(['0,0,pore', '9,0,disc', '4,0.1,scratch', ',,'])])
    code, said, err = run(origins, '--test', 'four-point-quarter', '--span', '20', '--json')
    check(code == 0 and json.loads(said)['origins'] == {'recorded': 3, 'placed': 3, 'hits': 2}, 'origins of breaks are counted', said, err)
    code, said, err = run(origins, '--test', 'four-point-quarter', '--span', '20')
    check('2 of 3 places, 67 %' in said, 'and said with their band', said)
    again = run(milled, gloss, '--test', 'four-point-quarter', '--span', '20', '--json', LC_ALL='de_DE.UTF-8')[1]
    check(again == out, 'same bars, same answer, whatever the locale')
    check('second against first' in run(milled, gloss, '--test', 'four-point-quarter', '--span', '20')[1], 'in words too')

    # standard answers through the whole command (ASTM C1161 bar B and ISO 6872, computed from their formulas, from memory)
    bar = write('one.csv', ['thickness_mm;width_mm;force_n;lot'] + ['3;4;1000;a'] * 3)
    for test, mpa in (('four-point-quarter', 833.333), ('three-point', 1666.667), ('four-point-third', 1111.111)):
        code, out, err = run(bar, '--test', test, '--span', '40', '--json')
        row = json.loads(out)
        check(all(near(s, mpa, 1e-4) for s in row['strengths_mpa']) and row['further_columns'] == ['lot'], '%s: %g MPa' % (test, mpa), out)
        check(code == 1 and row['fault'] == 'degenerate', 'all equal: no fit, said', code, out)
    disc = write('disc.csv', ['diameter_mm,force_n,thickness_mm', '12,1000,1.2'])
    row = json.loads(run(disc, '--test', 'disc', '--span', '10', '--json')[1])
    check(near(row['strengths_mpa'][0], 1107.5, 0.02), 'disc on three balls', row)

    # bad rows: named with file and line, the rest kept
    good = forces(12, 800, 10, 3)
    lines = ['force_n,width_mm,thickness_mm,length_mm'] + ['%.2f,4,3,45' % f for f in good]
    lines[3] = '-5,4,3,45'
    lines[5] = '900,4,3,15'
    lines[7] = '900,4000,3,45'
    lines[8] = 'weak,4,3,45'
    bad = write('bad.csv', lines, '\r\n')
    code, out, err = run(bad, '--test', 'four-point-quarter', '--span', '20', '--json')
    row = json.loads(out)
    check(code == 1 and row['bars'] == 8 and len(row['left_out']) == 4, 'four rows out, eight kept', code, out)
    for line, word in ((4, 'above 0'), (6, 'shorter than the span'), (8, 'width'), (9, 'weak')):
        check('%s:%d: ' % (bad, line) in err and word in err, 'line %d is named: %s' % (line, word), err)
    check(row['m_band'] == [None, None], 'eight bars: no band', row)
    mpa = write('mpa.csv', ['force_n,width_mm,thickness_mm'] + ['%.1f,4,1.2' % (f / 10) for f in good[:11]] + ['812,4,1.2'])
    code, out, err = run(mpa, '--test', 'three-point', '--span', '16')
    check(code == 1 and ':13: ' in err and 'MPa' in err, 'MPa among N is named', out, err)
    slip = table('slip.csv', good + [150])
    code, out, err = run(slip, '--test', 'four-point-quarter', '--span', '20', '--json')
    row = json.loads(out)
    check(code == 0 and row['outlier_lines'] == [14] and row['bars'] == 13, 'an outlier is marked and used', out)

    # nothing to read: exit 2, a message with the file, nothing on standard output
    for name, lines in (('pipes.csv', ['force_n|width_mm|thickness_mm', '1|2|3']), ('empty.csv', ['']), ('bare.csv', ['900,4,3'])):
        path = write(name, lines)
        code, out, err = run(path, '--test', 'three-point', '--span', '20', '--json')
        check(code == 2 and path in err and not out, '%s exits 2' % name, code, out, err)
    for args in (['--test', 'three-point'], ['--span', '20'], ['--test', 'push', '--span', '20'],
                 ['--test', 'three-point', '--span', '-20'], ['--test', 'four-point-third', '--span', '20', '--inner', '10'],
                 ['--test', 'three-point', '--span', 'nan']):
        code, out, err = run(milled, *args)
        check(code == 2 and not out and err, 'bars %s exits 2' % ' '.join(args), code, out, err)
    check(run('--test', 'three-point', '--span', '20')[0] == 2, 'no file exits 2')
    check(run(milled, gloss, bar, '--test', 'three-point', '--span', '20')[0] == 2, 'three files exit 2')

    many = table('many.csv', forces(100000, 800, 10, 4))
    start = time.monotonic()
    code, out, err = run(many, '--test', 'four-point-quarter', '--span', '20', '--json')
    row = json.loads(out)
    check(code == 0 and row['bars'] == 100000 and near(row['m'], 10, 2) and near(row['scale_mpa'], 800, 1), '100 000 rows', code, err)
    check(time.monotonic() - start < 30, 'in time', time.monotonic() - start)

plan()
