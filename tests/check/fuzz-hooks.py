"""What JSON Schema cannot say of a request is put right here, so that the fuzzer may hold the service to all the rest of its description:
that a request which fits it is accepted."""

import json
import os
import time

import schemathesis

GIVEN = json.loads(os.environ["FUZZ_GIVEN"])


def is_number(value):
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def put_right(value):
    if isinstance(value, list):
        for own in value:
            put_right(own)
    if not isinstance(value, dict):
        return
    for own in value.values():
        put_right(own)
    low, high = value.get("min"), value.get("max")
    if is_number(low) and is_number(high) and low > high:
        value["min"], value["max"] = high, low
    runs = value.get("runs")
    if isinstance(runs, list) and len(runs) == 2 and all(is_number(own) for own in runs):
        runs.sort()
    run, last = value.get("run"), value.get("lastRun")
    if is_number(run) and is_number(last) and last < run:
        value["run"], value["lastRun"] = last, run
    arcs = value.get("arcs")
    if isinstance(arcs, list) and len(arcs) <= 6 and all(isinstance(own, dict) for own in arcs):
        free = [number for number in range(1, 7) if number not in [own.get("arc") for own in arcs]]
        seen = set()
        for own in arcs:
            if own.get("arc") in range(1, 7) and is_number(own["arc"]):
                if own["arc"] in seen:
                    own["arc"] = free.pop()
                seen.add(own["arc"])


@schemathesis.hook
def before_call(context, case, kwargs):
    """Whatever phase made the request; one that is meant to break the description is left as it is."""
    if case.meta is not None and case.meta.generation.mode.is_positive:
        put_body_right(case.operation.path, case.body)
        put_cursor_right(case.operation.path, case.query)


def put_body_right(path, body):
    """min above max, run numbers the wrong way round, a last run before the first, an arc number twice, a shelving that ends in the past, another id than that of the path."""
    put_right(body)
    if not isinstance(body, dict):
        return
    if path.endswith("/shelve") and "until" in body:
        body["until"] = int((time.time() + 3600) * 1000)
    if path.endswith("/revisions") and "id" in body:
        body["id"] = GIVEN["procedure"]


def put_cursor_right(path, query):
    """A cursor has to be one that an earlier answer of the same list gave."""
    if not query or "cursor" not in query:
        return
    given = GIVEN["cursors"].get(path)
    if given is None or "order" in query or "direction" in query:
        del query["cursor"]
    else:
        query["cursor"] = given
