# SPDX-License-Identifier: GPL-3.0-or-later
# What start and check share: installing what is missing, and building.
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
export QT_QPA_FONTDIR=/usr/share/fonts/truetype/dejavu

say() { printf '== %s\n' "$*"; }

# Names of packages: those before "check:", or all of them.
package_names() {
    if [ "$1" = check ]; then
        grep -vE '^#|:$' "$root/packaging/packages"
    else
        sed '/^check:$/,$d' "$root/packaging/packages" | grep -v '^#'
    fi
}

# Installs those of the named packages that are missing, saying which.
install_packages() {
    local name missing=()
    for name in "$@"; do
        [ "$(dpkg-query -W -f='${db:Status-Status}' "$name" 2>/dev/null)" = installed ] || missing+=("$name")
    done
    [ ${#missing[@]} -gt 0 ] || return 0
    say "Installing: ${missing[*]}"
    local as_root=()
    [ "$(id -u)" -eq 0 ] || as_root=(sudo)
    "${as_root[@]}" apt-get update -qq
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
        apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
}

install_missing() { # start, or check
    # shellcheck disable=SC2046 # one name a word
    install_packages $(package_names "$1")
}

# build DIRECTORY [cmake option...] -- [target...]
build() {
    local directory=$1 options=()
    shift
    while [ $# -gt 0 ] && [ "$1" != -- ]; do
        options+=("$1")
        shift
    done
    [ $# -eq 0 ] || shift
    local targets=()
    [ $# -eq 0 ] || targets=(--target "$@")
    cmake -S "$root" -B "$directory" -G Ninja "${options[@]}" >"$directory.log" 2>&1 \
        || { cat "$directory.log" >&2; return 1; }
    cmake --build "$directory" "${targets[@]}"
}
