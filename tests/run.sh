#!/bin/sh
# The second command of the README: makes the environment, installs what the tests need, and runs everything.
# Arguments go to pytest, for example: sh tests/run.sh --soak
set -eu
cd "$(dirname "$0")/.."

# What Qt lacks on a bare Debian 12 to run without a screen (rampdraft/cli/screen.py has the whole list).
qt_packages="libgl1 libegl1 libglib2.0-0 libxkbcommon0 libfontconfig1 libdbus-1-3"

say() { printf '== %s\n' "$*"; }

say "environment in .venv-test"
if ! [ -x .venv-test/bin/python ]; then
    if ! python3 -m venv .venv-test; then
        rm -rf .venv-test
        echo "python3 cannot make an environment. On Debian or Ubuntu: apt-get install python3-venv" >&2
        exit 1
    fi
fi
python="$PWD/.venv-test/bin/python"
"$python" install.py --tests

export QT_QPA_PLATFORM=offscreen
qt_loads() { "$python" -c "import PySide6.QtWidgets, PySide6.QtSvg, PySide6.QtPrintSupport" 2>&1; }
if ! problem=$(qt_loads); then
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
        say "system libraries for Qt: $qt_packages"
        export DEBIAN_FRONTEND=noninteractive
        apt-get update -qq
        # shellcheck disable=SC2086  # a list of words
        apt-get install -y -qq --no-install-recommends $qt_packages >/dev/null
        problem=$(qt_loads) || { echo "$problem" >&2; exit 1; }
    else
        echo "$problem" | tail -n 1 >&2
        echo "Qt lacks system libraries. On Debian or Ubuntu: sudo apt-get install --no-install-recommends $qt_packages" >&2
        exit 1
    fi
fi

failed=""
step() {
    name=$1
    shift
    say "$name"
    "$@" || failed="$failed $name"
}
step lint "$python" -m ruff check --quiet .
step format "$python" -m ruff format --check --quiet .
step types .venv-test/bin/basedpyright --pythonpath "$python"
step imports .venv-test/bin/lint-imports
# A test that hangs tells where, and ends: the long searches of --soak alone take longer.
case " $* " in *" --soak "*) patience=0 ;; *) patience=300 ;; esac
watched="-o faulthandler_timeout=$patience -o faulthandler_exit_on_timeout=true"
shared="-n auto --maxprocesses 4 --dist loadscope"
# shellcheck disable=SC2086  # lists of words
step tests "$python" -m pytest $watched $shared --ignore=tests/app "$@"
# Qt is loaded in processes of its own.
# shellcheck disable=SC2086  # lists of words
step "tests of the window" "$python" -m pytest $watched $shared "$@" tests/app
if [ -n "$failed" ]; then
    echo "failed:$failed" >&2
    exit 1
fi
