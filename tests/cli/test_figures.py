#!/usr/bin/env python3
# test_figures.py - soffit-cli figures: a lab's folder in words, JSON and CSV.  TAP output.
# SPDX-License-Identifier: GPL-3.0-or-later
# Usage: test_figures.py SOFFIT_CLI SOURCE_ROOT
# Outside: the table is read back by Python's csv module; returns and breaks are counted in the files themselves by ElementTree.
import csv
import io
import json
import os
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as xml

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
import made_cases
from tap import check, plan

CLI, ROOT = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
SPACE = '{https://soffit.invalid/case}'


def run(*args):
    p = subprocess.run([CLI, 'figures', *args], capture_output=True, timeout=200)
    return p.returncode, p.stdout.decode(), p.stderr.decode()


def small_cases(folder, n):
    """Made cases of one connector that were returned."""
    i = 0
    while len(os.listdir(folder)) < n:
        text, number = made_cases.made_case(21, i)
        i += 1
        if text.count('<connector ') == 1 and 'kind="return"' in text:
            with open(os.path.join(folder, number + '.xml'), 'w', encoding='utf-8') as out:
                out.write(text)


with tempfile.TemporaryDirectory() as lab:
    small_cases(lab, 4)
    shutil.copy(os.path.join(ROOT, 'data', 'demo', 'QB-10.xml'), lab)  # the one that broke
    trees = [xml.parse(os.path.join(lab, name)).getroot() for name in sorted(os.listdir(lab))]
    returns = [e for tree in trees for e in tree.iter(SPACE + 'entry') if e.get('kind') == 'return']
    sent = [next((e.get('time') for e in tree.iter(SPACE + 'entry') if e.get('kind') == 'sent'), None) for tree in trees]

    code, out, err = run('--csv', lab)
    rows = list(csv.reader(io.StringIO(out, newline='')))
    table = {tuple(row[:3]): row[3] for row in rows[1:]}
    check(code == 0 and rows[0] == ['table', 'row', 'figure', 'value'] and all(len(row) == 4 for row in rows), 'CSV of four columns', code, err)
    check(out.endswith('\r\n') and out.count('\n') == out.count('\r\n'), 'lines end with CR LF')
    check(len(table) == len(rows) - 1, 'each figure once')
    check(table['cases', 'all', 'files'] == '5' and table['cases', 'all', 'unread'] == '0', 'five files', table)
    check(int(table['returns', 'all', 'returns']) == len(returns) > 3, 'returns as in the files', table['returns', 'all', 'returns'], len(returns))
    roofs = sum('roof' in e.text for e in returns)
    check(int(table['returns', 'causes', 'roof']) == roofs, 'returns that name the roof', table['returns', 'causes', 'roof'], roofs)
    months = {time[:7] for time in sent if time}
    shown = {row[1] for row in rows if row[0] == 'verdicts' and row[1] != 'all' and int(row[3])}
    check(shown == months, 'months of the first sending', shown, months)
    check(int(table['calibration', 'all', 'broken']) == sum(tree.find(SPACE + 'origin') is not None for tree in trees), 'breaks as in the files')
    check(table['calibration', 'all', 'few'] == '1', 'five cases: too few to tell')
    check(not any(row[0] == 'technician' for row in rows), 'nothing of single hands unless the lab wants it')

    code, out, err = run('--json', lab)
    lines = [json.loads(line) for line in out.splitlines()]
    check({(r['table'], r['row'], r['figure']) for r in lines} == set(table), 'JSON says the same', err)

    code, out, err = run(lab)
    check('5 cases in all' in out and 'too few to tell' in out and 'lower end' in out and 'technician' not in out, 'words, with what they cannot tell', out)

    with open(os.path.join(lab, 'lab.ini'), 'w', encoding='utf-8') as settings:
        settings.write('[lab]\nfigures-by-technician=true\n')
    with open(os.path.join(lab, 'half.xml'), 'w', encoding='utf-8') as half:
        half.write('<?xml version="1.0"?><case')
    code, out, err = run('--csv', '--workers', '1', lab)
    rows = list(csv.reader(io.StringIO(out, newline='')))
    hands = {row[1] for row in rows if row[0] == 'technician'}
    check(len(hands) > 1 and 'VS' not in hands, 'switched on: by who drew it', hands)
    check(code == 2 and 'not counted' in err and ['cases', 'all', 'unread', '1'] in rows, 'half a file is told and not counted', code, err)

    code, out, err = run(os.path.join(lab, 'gone'))
    check(code == 2 and not out and 'soffit-cli: ' in err, 'a folder that is not there', code, err)
    check(run()[0] == 2 and run(lab, lab)[0] == 2, 'one folder is needed')
plan()
