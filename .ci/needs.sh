# Sourced by `try` and `check`: sees to it that what they need is there.
#
# Rust itself needs a C compiler to join the parts of a program (`cc`, from the package gcc, with
# libc6-dev). It is installed only if it is missing, on systems that have apt-get.

if ! command -v cargo >/dev/null 2>&1; then
    if [ -x "${CARGO_HOME:-$HOME/.cargo}/bin/cargo" ]; then
        PATH="${CARGO_HOME:-$HOME/.cargo}/bin:$PATH"
        export PATH
    else
        echo "Rust is missing: install Rust 1.95 or later, so that the command cargo is found." >&2
        exit 1
    fi
fi

if ! command -v cc >/dev/null 2>&1; then
    if ! command -v apt-get >/dev/null 2>&1; then
        echo "A C compiler is missing: install gcc and the headers of the C library (libc6-dev)." >&2
        exit 1
    fi
    if [ "$(id -u)" -eq 0 ]; then as_root=""; else as_root="sudo"; fi
    echo "Installing gcc and libc6-dev, which Rust needs to build a program." >&2
    $as_root apt-get update -qq
    DEBIAN_FRONTEND=noninteractive $as_root apt-get install -y -qq --no-install-recommends gcc libc6-dev
fi
