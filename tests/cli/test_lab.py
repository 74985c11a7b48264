#!/usr/bin/env python3
# test_lab.py - soffit-cli lab: the cases of a folder, worst first; its table read back by Python's csv module (RFC 4180).
# SPDX-License-Identifier: GPL-3.0-or-later
# Usage: test_lab.py SOFFIT_CLI SOURCE_ROOT
import configparser
import csv
import io
import json
import os
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
from tap import check, plan

CLI, ROOT = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
DEMO = os.path.join(ROOT, 'data', 'demo')
RANK = {'rework': 0, '': 1, 'close': 2, 'holds': 3}


def run(*args):
    p = subprocess.run([CLI, 'lab', *args], capture_output=True, timeout=120, env={**os.environ, 'XDG_CACHE_HOME': CACHE})
    return p.returncode, p.stdout.decode('utf-8'), p.stderr.decode('utf-8')


def rows_of(text):
    return [json.loads(line) for line in text.splitlines()]


with tempfile.TemporaryDirectory() as folder:
    CACHE = os.path.join(folder, 'cache')
    lab = os.path.join(folder, 'lab')
    os.mkdir(lab)

    def write(name, text):
        path = os.path.join(lab, name)
        with open(path, 'w', encoding='utf-8') as f:
            f.write(text)
        os.utime(path, (1772000000, 1772000000))

    def demo(name):
        with open(os.path.join(DEMO, name), encoding='utf-8') as f:
            return f.read()

    title = 'Four, "sharp"; мост 橋'
    write('мост 橋.xml', demo('QB-02.xml').replace('title="Four units with V embrasures"', 'title="%s"' % title.replace('"', '&quot;')))
    write('sound.xml', demo('QB-01.xml'))
    for name in ('QB-03.xml', 'QB-07.xml'):
        write(name, demo(name))
    code, out, err = run('--json', lab)
    rows = rows_of(out)
    check(code == 1 and len(rows) == 4 and not err, 'four rows, some do not hold', code, out, err)
    check([(RANK[r['verdict']], r['margin']) for r in rows] == sorted((RANK[r['verdict']], r['margin']) for r in rows),
          'worst first', [(r['verdict'], r['margin']) for r in rows])
    check(rows[0]['file'] == 'мост 橋.xml' and rows[0]['title'] == title and rows[0]['weakest'] == '35-36', 'names in any script', rows[0])

    code, table, err = run('--csv', lab)
    check(table.count('\r\n') == table.count('\n') == 5, 'lines end with CR LF', table)
    read = list(csv.DictReader(io.StringIO(table, newline=''), strict=True))
    check(len(read) == 4 and list(read[0]) == list(rows[0]), 'CSV: the columns of the JSON', read)

    def same(cell, value):
        return cell == '' if value is None or value == '' else cell == value if isinstance(value, str) else float(cell) == value
    check(all(same(c[k], r[k]) for c, r in zip(read, rows) for k in r), 'CSV: the same cells as the JSON', read, rows)
    one = subprocess.run([CLI, 'assess', '--live', '--json', os.path.join(lab, 'мост 橋.xml')], capture_output=True, text=True, timeout=60)
    weakest = [c for c in rows_of(one.stdout) if c['connector'] == '35-36'][0]
    check(all(weakest[k] == rows[0][k] for k in ('margin', 'margin_low', 'carries_n', 'chance_percent', 'roof_radius_mm')),
          'the figures of assess --live', weakest, rows[0])

    # what was kept is the same as what is assessed anew; a damaged cache is no harm
    code, fresh, err = run('--json', '--fresh', lab)
    check(fresh == out, 'cached and fresh alike', fresh, out)
    kept = os.path.join(CACHE, 'soffit', os.listdir(os.path.join(CACHE, 'soffit'))[0])
    with open(kept, 'r+b') as f:
        f.seek(300)
        f.write(b'soffit')
    code, again, err = run('--json', lab)
    check(again == out and not err, 'a damaged cache is made anew', again, err)

    code, words, err = run(lab)
    check(words.splitlines()[0].startswith('мост 橋.xml: rework; margin 0.30 (') and '35/36' in words.splitlines()[0], 'in words', words)

    # bad files have their own rows and do not stop the others
    write('half.xml', demo('QB-01.xml')[:700])
    write('twin.xml', demo('QB-01.xml'))
    shutil.copy(os.path.join(ROOT, 'tests', 'cases', 'newer.xml'), lab)
    code, out, err = run('--json', lab)
    by_file = {r['file']: r for r in rows_of(out)}
    check(code == 2 and len(by_file) == 7, 'an unreadable file is bad input', code, out)
    check([r['state'] for r in rows_of(out)] == ['unreadable'] * 2 + ['ready'] * 5, 'unreadable ones first', out)
    check('newer Soffit' in by_file['newer.xml']['trouble'] and 'no whole XML' in by_file['half.xml']['trouble'], 'why, in words', by_file)
    check('sound.xml has the same case number' in by_file['twin.xml']['trouble'], 'a case number twice', by_file['twin.xml'])

    # thresholds of the lab; the settings file as another reader sees it
    for name in ('half.xml', 'twin.xml', 'newer.xml'):
        os.unlink(os.path.join(lab, name))
    write('lab.ini', '[lab]\nname=North bench\n\n[thresholds 1]\nclose-margin=1.00\nholds-margin=4.00\nby=Vera, supervisor\nsince=2026-03-02T10:20:00Z\n')
    ini = configparser.ConfigParser()
    ini.read(os.path.join(lab, 'lab.ini'), encoding='utf-8')
    code, out, err = run('--json', lab)
    check(all(r['holds_margin'] == float(ini['thresholds 1']['holds-margin']) for r in rows_of(out)), 'thresholds of the lab', out)
    check({r['file']: r['verdict'] for r in rows_of(out)}['sound.xml'] == 'close', 'what held is close by stricter thresholds', out)
    write('lab.ini', '[thresholds 1]\nclose-margin=1.00\nholds-margin=many\n')
    code, out, err = run('--json', lab)
    check(code == 2 and 'lab.ini:3' in err and len(rows_of(out)) == 4, 'a bad threshold is told with its line', code, err)

    code, out, err = run(os.path.join(folder, 'gone'))
    check(code == 2 and 'Choose another folder' in err, 'no folder', code, err)
    check(run()[0] == 2, 'no folder named')

plan()
