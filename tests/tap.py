# tap.py - numbered lines of the Test Anything Protocol for the tests written in Python.
# SPDX-License-Identifier: GPL-3.0-or-later

count = 0


def check(good, what, *more):
    """One line; what is known about a failure follows as comments."""
    global count
    count += 1
    print('%s %d - %s' % ('ok' if good else 'not ok', count, what))
    if not good:
        for m in more:
            print('# ' + str(m).strip().replace('\n', '\n# '))


def plan():
    print('1..%d' % count)
