#!/usr/bin/env bash
# All tests, with their own set-up: ./test.sh
#
# Needs Go with a C compiler (the race detector links with one). The page's tests
# also need Node 20.19 or later and Chromium; without them they are left out, which
# is said at the end, and fails in CI.
set -euo pipefail
cd "$(dirname "$0")"
left_out=()

step() { printf '\n== %s\n' "$*"; }

step "Go tests"
go test ./...

step "Go tests, watched for races"
# Ten times slower, so that what works out whole boats many times over is left to the step above. A race lies where
# something runs beside something: in the packages whose files start a goroutine, watched in their own tests,
# and in what all share while many are asked at once, watched where that is done.
starting='\bgo (func|[A-Za-z_.]+)\(|\.Go\(|t\.Parallel\(\)'
watched=$({ find cmd internal web/test -name '*.go' | xargs grep -lE "$starting" | xargs -n1 dirname
  printf '%s\n' internal/questions internal/crossing internal/answer internal/climate internal/searches/stow internal/searches/passage; } | sort -u | sed 's#^#./#')
# shellcheck disable=SC2086
go test -race -short $watched

step "readers against made-up input, a little"
# The seeds ran above; this goes a short way beyond them, and a long one with THOLE_LONG=1. A package's
# targets are built once and run one after another.
fuzz=$(mktemp -d)
times=1000x
if [ "${THOLE_LONG:-}" = 1 ]; then times=100000x; fi
for dir in $(grep -rl --include='*_test.go' '^func Fuzz' cmd internal | xargs -n1 dirname | sort -u); do
  go test -c -fuzz=. -o "$fuzz/tests" "./$dir"
  for target in $(cat "$dir"/*_test.go | sed -n 's/^func \(Fuzz[A-Za-z0-9_]*\)(.*/\1/p'); do
    if ! told=$(cd "$dir" && "$fuzz/tests" -test.run '^$' -test.fuzz "^$target\$" -test.fuzztime "$times" -test.fuzzcachedir "$fuzz/found" 2>&1); then
      printf '%s\n' "$told"
      exit 1
    fi
    printf '%s  %s %s\n' "$(grep execs: <<<"$told" | tail -1)" "$dir" "$target"
  done
done
rm -rf "$fuzz"

step "benchmarks, once each, so that they go on working"
# shellcheck disable=SC2046
go test -short -run '^$' -bench . -benchtime 1x $(grep -rl --include='*_test.go' '^func Benchmark' cmd internal | xargs -n1 dirname | sort -u | sed 's#^#./#') | { grep -Ev '^PASS' || true; }

page() {
  step "the page, built again"
  local before
  before=$(mktemp -d)
  cp -R internal/web/dist "$before/dist"
  (cd web && npm ci --ignore-scripts --no-audit --no-fund --loglevel=error && npm run --silent check && npm run --silent build)
  if ! diff -r "$before/dist" internal/web/dist; then
    echo "internal/web/dist is not what web/ builds: look at it, then commit it with its source"
    return 1
  fi
  rm -rf "$before"

  if ! grep -q '"test"' web/package.json; then
    return 0
  fi
  local chromium
  if chromium=${CHROMIUM:-$(command -v chromium || command -v chromium-browser)}; then
    step "the page's tests"
    (cd web && CHROMIUM=$chromium npm test)
  else
    left_out+=("the page's tests (no Chromium here)")
  fi
}

if command -v npm >/dev/null 2>&1 && node -e 'const [a, b] = process.versions.node.split(".").map(Number); process.exit(a > 20 || (a === 20 && b >= 19) ? 0 : 1)'; then
  page
else
  left_out+=("the page's build and tests (no Node 20.19 or later here)")
fi

if [ "${#left_out[@]}" -gt 0 ]; then
  printf '\nLeft out:\n'
  printf '  %s\n' "${left_out[@]}"
  if [ "${CI:-}" = true ]; then exit 1; fi
fi
printf '\nEverything that was run has passed.\n'
