# Words of `pdftotext -bbox` that lie on one another.
/<page/ { page++; n = 0 }
/<word/ {
    match($0, /xMin="[0-9.]+"/); x0 = substr($0, RSTART + 6, RLENGTH - 7) + 0
    match($0, /yMin="[0-9.]+"/); y0 = substr($0, RSTART + 6, RLENGTH - 7) + 0
    match($0, /xMax="[0-9.]+"/); x1 = substr($0, RSTART + 6, RLENGTH - 7) + 0
    match($0, /yMax="[0-9.]+"/); y1 = substr($0, RSTART + 6, RLENGTH - 7) + 0
    text = $0; gsub(/<[^>]*>/, "", text)
    # Letters without their accents and feet: a box is a line high.
    y0 += 0.2 * (y1 - y0); y1 -= 0.25 * (y1 - y0)
    for (k = 0; k < n; k++)
        if (x0 < X1[k] - 0.3 && X0[k] < x1 - 0.3 && y0 < Y1[k] - 0.1 && Y0[k] < y1 - 0.1)
            printf "page %d: \"%s\" lies on \"%s\"\n", page, text, T[k]
    X0[n] = x0; X1[n] = x1; Y0[n] = y0; Y1[n] = y1; T[n++] = text
}
