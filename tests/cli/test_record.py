#!/usr/bin/env python3
# test_record.py - soffit-cli record: histories chained here by what core/record/chain.h says and signed by OpenSSL, then tampered with.  TAP output.
# SPDX-License-Identifier: GPL-3.0-or-later
# Usage: test_record.py SOFFIT_CLI SOURCE_ROOT
import base64
import collections
import csv
import hashlib
import io
import json
import os
import re
import subprocess
import sys
import tempfile
from xml.sax.saxutils import escape, quoteattr

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
import made_cases
from tap import check, plan

CLI, ROOT = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
DEMO = os.path.join(ROOT, 'data', 'demo', 'QB-02.xml')
FIELDS = ('kind', 'time', 'name', 'role', 'initials', 'text', 'before', 'after', 'content', 'limits', 'key')


def run(*args, text=True):
    p = subprocess.run([CLI, *args], capture_output=True, text=text, timeout=60)
    return p.returncode, p.stdout, p.stderr


def block(entry):
    lines = b''
    for name in FIELDS:
        value = entry.get(name, '').encode()
        lines += b'%s %d:%s\n' % (name.encode(), len(value), value)
    return lines


def chain(old, entries, sign=None):
    """Sets the chain of each entry, and signs those with a key."""
    previous = None
    for entry in entries:
        if previous:
            data = b'soffit history 1\nprevious 64:%s\n' % previous.encode()
        else:
            data = b'soffit history 1\nearlier %d\n' % len(old) + b''.join(map(block, old))
        previous = entry['chain'] = hashlib.sha256(data + block(entry)).hexdigest()
        if entry.get('key'):
            entry['signature'] = base64.b64encode(sign(previous.encode())).decode()


def attribute(text):
    return quoteattr(text, {'\n': '&#10;', '\r': '&#13;', '\t': '&#9;', '"': '&quot;'})


def written(entries):
    out = '  <history>\n'
    for entry in entries:
        given = {k: v for k, v in entry.items() if k != 'text' and v and (k, v) != ('kind', 'note')}
        words = ' '.join('%s=%s' % (k, attribute(v)) for k, v in given.items())
        out += '    <entry %s>%s</entry>\n' % (words, escape(entry.get('text', ''), {'\r': '&#13;'}))
    return out + '  </history>\n'


with tempfile.TemporaryDirectory() as folder:
    with open(DEMO, encoding='utf-8') as f:
        demo = re.sub(r' *<history>.*</history>\n', '%s', f.read().replace('%', '%%'), flags=re.S)

    def case(entries, body=demo, name='case.xml'):
        path = os.path.join(folder, name)
        with open(path, 'w', encoding='utf-8', newline='') as f:
            f.write(body % written(entries))
        return path

    # a key of OpenSSL, its public half in the lab's folder
    pem, public, message = (os.path.join(folder, n) for n in ('key.pem', 'public.der', 'message'))
    subprocess.run(['openssl', 'genpkey', '-algorithm', 'ed25519', '-out', pem], check=True, capture_output=True)
    subprocess.run(['openssl', 'pkey', '-in', pem, '-pubout', '-outform', 'DER', '-out', public], check=True, capture_output=True)
    with open(public, 'rb') as f:
        half = f.read()[-32:]
    key_id = hashlib.sha256(half).hexdigest()[:16]

    def sign(data):
        with open(message, 'wb') as f:
            f.write(data)
        return subprocess.run(['openssl', 'pkeyutl', '-sign', '-rawin', '-inkey', pem, '-in', message], check=True,
                              capture_output=True).stdout

    lab = os.path.join(folder, 'lab')
    os.makedirs(os.path.join(lab, 'keys'))
    key_file = os.path.join(lab, 'keys', key_id + '.key')
    with open(key_file, 'w', encoding='utf-8') as f:
        f.write('[public key]\nname=Sam Head\nrole=supervisor\ninitials=SH\ned25519=%s\n' % base64.b64encode(half).decode())

    code, out, err = run('record', case([]))
    content = re.search(r'^Content: ([0-9a-f]{64})$', out, re.M)
    check(code == 0 and content and 'nothing is chained' in out and 'being drawn' in out, 'a case without a history', out, err)
    content = content.group(1)

    old = [{'kind': 'note', 'time': 'day 0', 'role': 'intake desk', 'text': 'order booked; "natural separation"'},
           {'kind': 'note', 'time': 'day 1', 'role': 'trainee', 'text': 'drawn & copied'}]
    ann = {'name': 'Ann Bench', 'role': 'bench technician', 'initials': 'AB'}
    sam = {'name': 'Sam Head', 'role': 'supervisor', 'initials': 'SH'}

    def story():
        return [dict(ann, kind='change', time='2026-03-02T10:20:00Z', text='34/35: Roof radius\n34/35: Opening angle',
                     before='0.20 mm\n51.5°', after='0.75 mm\n45.2°', content='0' * 64),
                dict(ann, kind='sent', time='2026-03-02T10:21:00Z', text='ready\r\nq\t"界" <b> & \'', content=content),
                dict(sam, kind='pass', time='2026-03-02T11:00:00Z', text='good' + ' and long' * 600, content=content,
                     limits='1.00 1.25', key=key_id)]

    good = story()
    chain(old, good, sign)
    whole = case(old + good)
    code, out, err = run('record', whole, '--keys', lab)
    check(code == 0 and 'Chain: whole, entries 3 to 5.' in out and 'What stands: passed, by entry 5 (Sam Head, supervisor; signed)' in out,
          'chained here, signed by OpenSSL: whole and signed', out, err)
    check('34/35: Roof radius: 0.20 mm → 0.75 mm\n     34/35: Opening angle: 51.5° → 45.2°' in out and '"界" <b>' in out,
          'changes in words, line by line', out)
    code, out, err = run('record', whole)
    check(code == 0 and 'a key the lab does not have' in out, 'without the folder of keys the key is unknown', out, err)

    # every entry against sha256sum
    for n, entry in enumerate(old + good, 1):
        code, data, err = run('record', whole, '--bytes', str(n), text=False)
        summed = subprocess.run(['sha256sum'], input=data, capture_output=True, check=True).stdout[:64].decode()
        check(code == 0 and (summed == entry.get('chain') or n <= 2), 'bytes of entry %d against sha256sum' % n, summed, err)
    for n in ('0', '6', '-1', 'x'):
        code, out, err = run('record', whole, '--bytes', n)
        check(code == 2 and err and not out, 'no entry ' + n, code, out, err)

    # as one line of JSON each
    code, out, err = run('record', whole, '--keys', lab, '--json')
    lines = [json.loads(line) for line in out.splitlines()]
    check(code == 0 and len(lines) == 6 and lines[2]['before'] == ['0.20 mm', '51.5°'] and lines[4]['chain'] == good[2]['chain'] and
          lines[4]['signed'] == 'yes' and lines[0]['chain_state'] == 'none' and lines[3]['text'] == ['ready\r', 'q\t"界" <b> & \''],
          'JSON: entries', out)
    check(lines[5]['standing'] == 'passed' and lines[5]['decision'] == 5 and lines[5]['content'] == content and
          lines[5]['chain'] == 'whole' and lines[5]['why'] == [], 'JSON: what stands', lines[5])

    # tampered with: caught, and where
    def tampered(what, entries, at, words):
        code, out, err = run('record', case(entries), '--keys', lab)
        broken = re.search(r'BROKEN at entry (\d+)', out)
        check(code == 1 and broken and int(broken.group(1)) == at and words in out, what, code, out, err)

    def changed(i, **members):
        entries = [dict(e) for e in old + good]
        entries[i].update(members)
        return entries

    tampered('an old note changed', changed(0, text='order booked'), 3, 'DOES NOT FIT ITS CHAIN')
    tampered('a value changed', changed(2, after='0.95 mm\n45.2°'), 3, 'What stands: passed')
    tampered('a time changed', changed(3, time='2026-03-01T10:21:00Z'), 4, '4  2026-03-01')
    tampered('the reason of the decision changed', changed(4, text='not good'), 5, 'signature does not fit')
    tampered('its thresholds changed', changed(4, limits='0.50 1.25'), 5, 'What stands: open again')
    tampered('its signature taken off with its key', changed(4, key='', signature=''), 5, 'unsigned')
    tampered('an entry taken out', [e for i, e in enumerate(old + good) if i != 3], 4, 'DOES NOT FIT')
    tampered('an entry put in', changed(0)[:4] + [dict(sam, kind='note', time='x', text='seen')] + good[2:], 5, 'DOES NOT FIT')
    tampered('the chain of an entry taken off', changed(2, chain=''), 4, 'DOES NOT FIT')
    code, out, err = run('record', case(changed(4, signature=good[2]['signature'][:-4] + 'AAA=')), '--keys', lab)
    check(code == 1 and 'Chain: whole' in out and 'signature does not fit' in out, 'a signature changed', code, out, err)
    forged = story()
    forged[2]['text'] = 'forged'
    chain(old, forged, lambda data: bytes(64))
    code, out, err = run('record', case(old + forged), '--keys', lab)
    check(code == 1 and 'Chain: whole' in out and 'signature does not fit' in out, 'all written anew: the signature tells', code, out, err)

    # the case itself changed since
    other = demo.replace('load="600"', 'load="500"')
    code, out, err = run('record', case(old + good, other), '--keys', lab)
    check(code == 1 and 'Chain: whole' in out and 'What stands: open again' in out and 'Changed outside the record.' in out,
          'changed by hand: open again', code, out, err)
    later = run('record', case([], other))[1]
    more = story() + [dict(ann, kind='change', time='2026-03-03T08:00:00Z', text='Order’s load', before='600 N', after='500 N',
                           content=re.search(r'^Content: (.*)$', later, re.M).group(1))]
    chain(old, more, sign)
    code, out, err = run('record', case(old + more, other), '--keys', lab)
    check(code == 1 and 'open again' in out and out.count('Order’s load: 600 N → 500 N') == 2 and 'outside' not in out,
          'changed on the record: open again, and why', code, out, err)
    code, out, err = run('record', case(old + good, demo.replace('Four units', 'Our four units')), '--keys', lab)
    check(code == 0 and 'What stands: passed' in out, 'another title takes nothing away', code, out, err)

    # the history as a table, read back by Python's csv module
    code, out, err = run('record', '--csv', whole, text=False)
    table = list(csv.DictReader(io.StringIO(out.decode(), newline='')))
    lines = [json.loads(line) for line in run('record', '--json', whole)[1].splitlines()][:-1]
    check(code == 0 and len(table) == len(lines) > 3 and all(
        list(row) == list(line) and all(row[key] == ('\n'.join(value) if isinstance(value, list) else str(value)) for key, value in line.items())
        for row, line in zip(table, lines)), 'a table: the same under the same names as JSON', out, err)
    check(out.endswith(b'\r\n') and run('record', '--csv', '--json', whole)[0] == 2, 'lines end with CR LF; not both at once', out)

    # what a decision keeps, of many cases at once
    code, out, err = run('record', '--content', whole, os.path.join(folder, 'none.xml'), case(old + good))
    said = [json.loads(run('record', '--json', path)[1].splitlines()[-1])['content'] for path in (whole, case(old + good))]
    check(code == 2 and [line.split('  ')[0] for line in out.splitlines()] == said and out.splitlines()[0].endswith(whole) and 'none.xml' in err,
          'digests of the content, one that cannot be read is told', code, out, err)
    made = made_cases.write_cases(os.path.join(folder, 'made'), 12, 7, cli=CLI)
    stand = collections.Counter(json.loads(run('record', '--json', path)[1].splitlines()[-1])['standing'] for path in made)
    passed = sum('kind="pass"' in open(path, encoding='utf-8').read() for path in made)
    check(stand['reopened'] == 0 and stand['passed'] == passed > 2, 'made cases that were passed stand', stand, passed)

    # bad input
    with open(os.path.join(lab, 'keys', 'half.key'), 'w', encoding='utf-8') as f:
        f.write('[public key]\nname=')
    code, out, err = run('record', case(old + good), '--keys', lab)
    check(code == 0 and 'half.key' in err, 'a damaged key is named and left out', code, out, err)
    for what, args in (('no file', [os.path.join(folder, 'none.xml')]), ('no argument', []), ('two files', [whole, whole]),
                       ('half a file', [os.path.join(folder, 'half.xml')])):
        with open(os.path.join(folder, 'half.xml'), 'w', encoding='utf-8') as f:
            f.write((demo % '')[:900])
        code, out, err = run('record', *args)
        check(code == 2 and err.startswith('soffit-cli: ') and not out, 'bad input: ' + what, code, out, err)
plan()
