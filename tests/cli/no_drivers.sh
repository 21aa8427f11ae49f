# Pictures as PNG and PDF need PLplot's drivers. Where there are none the folder is named, and nothing is blamed on
# memory or a file; SVG needs none.
cp scenarios/seeddrill*.yaml .
mkdir empty
for folder in nowhere empty; do
    export PLPLOT_DRV_DIR=$folder
    for command in "next seeddrill.yaml --plots out --format png" "sheet seeddrill.yaml -o sheet.pdf" \
        "next seeddrill.yaml --plots $folder-svg --format svg"; do
        # shellcheck disable=SC2086 # words
        hubphase $command 2>&1 >/dev/null | grep '^hubphase'
        echo "status ${PIPESTATUS[0]}"
    done
done
find . -name '*.png' -o -name '*.pdf' -o -name '*.svg' -o -name '.unfinished*' | sort
