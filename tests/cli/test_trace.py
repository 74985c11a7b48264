#!/usr/bin/env python3
# test_trace.py - soffit-cli trace and drawing as their users call them.  TAP output.
# SPDX-License-Identifier: GPL-3.0-or-later
# Usage: test_trace.py SOFFIT_CLI SOURCE_ROOT
import json
import math
import os
import random
import subprocess
import sys
import tempfile
import time
import xml.etree.ElementTree as tree

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
import surfaces
from tap import check, plan

CLI, ROOT = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
CASE = os.path.join(ROOT, 'data', 'demo', 'QB-02.xml')


def run(*args):
    p = subprocess.run([CLI, *args], capture_output=True, text=True, timeout=120)
    return p.returncode, p.stdout, p.stderr


with tempfile.TemporaryDirectory() as folder:
    def write(name, data):
        path = os.path.join(folder, name)
        with open(path, 'wb') as f:
            f.write(data)
        return path

    row = surfaces.row(4)
    whole = write('row.stl', surfaces.binary(row))
    code, out, err = run('trace', '--json', whole)
    lines = [json.loads(line) for line in out.splitlines()]
    check(code == 0 and len(lines) == 4 and lines[0]['necks'] == 3, 'a row of four units has three necks', code, out, err)
    area = math.pi / 4 * 3.9 * 3.8  # ellipse of the neck
    for i, neck in enumerate(lines[1:]):
        check(abs(neck['at_mm'] - 9 * (i + 1)) < 0.05 and abs(neck['area_mm2'] / area - 1) < 0.005 and
              abs(neck['section_area_mm2'] / area - 1) < 0.01 and abs(neck['yaw_deg']) < 1 and neck['fit_mm'] < 0.03,
              'neck %d: place, area, no tilt' % (i + 1), neck)
    again = json.loads(run('trace', '--json', '--neck', '2', write('text.stl', surfaces.text(row)))[1].splitlines()[1])
    check(all(abs(again[k] - lines[2][k]) < 1e-3 for k in ('at_mm', 'area_mm2', 'height_mm', 'width_mm')), 'text and binary agree', again)
    solid = run('trace', '--json', '--neck', '2', write('solid.stl', surfaces.binary(row, b'solid of a program')))[1]
    check(json.loads(solid.splitlines()[0])['form'] == 'binary', 'binary that begins with "solid"', solid)
    inch = [tuple(tuple(c / 25.4 for c in p) for p in t) for t in row]
    code, out, err = run('trace', '--neck', '1', write('inch.stl', surfaces.binary(inch)))
    check(code == 0 and 'taken as inches' in out and 'span 36.0 mm' in out, 'inches are guessed and said', out, err)
    code, out, err = run('trace', '--unit', 'mm', os.path.join(folder, 'inch.stl'))
    check(code == 2 and 'set the unit' in err, 'a bridge of 1.4 mm is refused', out, err)

    # outlines to the solid answer
    drawing = os.path.join(folder, 'neck.svg')
    code, out, err = run('trace', whole, '--neck', '2', '--svg', drawing)
    check(code == 0 and os.path.exists(drawing), 'outlines of a neck written', out, err)
    code, out, err = run('connector', '--json', '--bend', '1000', drawing)
    answer = json.loads(out) if code == 0 else {}
    check(code == 0 and abs(answer['neck_area_mm2'] / area - 1) < 0.01 and answer['solid']['peak_mpa'] > answer['nominal_mpa'],
          'and judged', code, out, err)
    code, out, err = run('trace', whole, '--at', '9.5', '--pitch', '5', '--json')
    hand = json.loads(out.splitlines()[1])
    check(code == 0 and hand['neck'] == 0 and abs(hand['pitch_deg'] - 5) < 1e-6 and hand['area_mm2'] > area, 'a plane by hand', out, err)
    turned = json.loads(run('trace', '--end-for-end', '--json', '--neck', '1', whole)[1].splitlines()[1])
    check(abs(turned['at_mm'] - 9) < 0.05, 'end for end', turned)
    for args, words in ((('--neck', '9'), 'no neck 9'), (('--svg', drawing), 'Choose one'), (('--unit', 'ell'), '--unit is'),
                        (('--up', 'w'), '--up is'), (('--at', '10', '--yaw', '80'), ''), ((whole,), 'one STL file')):
        code, out, err = run('trace', whole, *args)
        check(code == 2 and words in err and 'Traceback' not in err, 'refused: ' + ' '.join(args)[:30], code, out, err)

    # spoiled files: a sentence with the place, what is left is used where it can be
    data = surfaces.binary(row)
    code, out, err = run('trace', '--neck', '1', write('short.stl', data[:-5000]))
    check(code == 0 and 'ends after' in out and 'open at' in out, 'cut off: the rest is used and that is said', out, err)
    nan = bytearray(data)
    nan[84 + 50 * 77 + 12:84 + 50 * 77 + 16] = b'\xff\xff\xff\xff'
    code, out, err = run('trace', '--neck', '1', write('nan.stl', bytes(nan)))
    check(code == 0 and 'number 78' in out, 'a coordinate that is no number: its triangle is named', out, err)
    bad = surfaces.text(row).split(b'\n')
    bad[1234] = b'vortex 1 2 3'
    code, out, err = run('trace', write('word.stl', b'\n'.join(bad)))
    check(code == 2 and 'word.stl:1235:' in err, 'a wrong word: its line is named', out, err)
    for name, content in (('empty.stl', b''), ('tiny.stl', b'x' * 83), ('zero.stl', bytes(84)), ('head.stl', b'solid\n')):
        code, out, err = run('trace', write(name, content))
        check(code == 2 and name in err and err.count('\n') == 1, name, code, out, err)
    rubbish = os.path.join(folder, 'rubbish.stl')
    block = random.Random(1).randbytes(1 << 20)
    with open(rubbish, 'wb') as f:
        for _ in range(100):
            f.write(block)
    start = time.monotonic()
    code, out, err = run('trace', rubbish)
    check(code == 2 and 'no numbers' in err and time.monotonic() - start < 10, '100 MB of rubbish', code, out, err)

    # drawing: out, and back as the connector it was
    code, out, err = run('drawing', CASE, '35-36')
    root = tree.fromstring(out)
    ids = {e.get('id') for e in root.iter()}
    check(code == 0 and {'gingival', 'occlusal', 'buccal', 'lingual', 'plan-axis', 'marks'} <= ids, 'a drawing with its ids', sorted(map(str, ids)))
    box = [float(v) for v in root.get('viewBox').split()]
    check(root.get('width') == '%gmm' % box[2] and root.get('height') == '%gmm' % box[3], 'true size in mm', root.attrib)
    plain = os.path.join(folder, 'plain.svg')
    code, out, err = run('drawing', CASE, '35/36', '--plain', '--svg', plain)
    check(code == 0 and 'marks' not in open(plain).read(), 'without marks, with a stroke between the teeth', err)
    got = json.loads(run('connector', '--json', '--bend', '1000', plain)[1])
    want = next(r for r in map(json.loads, run('assess', '--json', CASE)[1].splitlines()) if r['connector'] == '35-36')
    check(all(abs(got[k] / want[k] - 1) < 1e-4 for k in ('neck_height_mm', 'neck_area_mm2')), 'the same neck read back', got, want)
    for args, words in ((('35-36',), 'needs a case'), ((CASE, '35-37'), '35-37'), (('none.xml', '35-36'), 'none.xml')):
        code, out, err = run('drawing', *args)
        check(code == 2 and words in err, 'drawing refused: ' + words, code, out, err)
plan()
