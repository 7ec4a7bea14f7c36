/**
 * What the app carries besides whole packages: libraries compiled into one, and published data that
 * numbers were derived from. No package says this by itself.
 *
 * @typedef {object} Part
 * @property {string} name
 * @property {string} licence SPDX expression
 * @property {string} note where it sits, whose it is, where its source is
 * @property {string} [text] the file beside this one that holds the licence text
 */

/** @type {Part[]} */
export const parts = [
  {
    name: 'LibRaw 0.22.1 (compiled into libraw-wasm)',
    licence: 'LGPL-2.1-only OR CDDL-1.0',
    note: `Copyright (C) 2008-2025 LibRaw LLC (info@libraw.org). Used here under the GNU Lesser General
Public License 2.1, without changes. The app loads it as files of its own (assets/raw/), which you may
change and replace; you may take the app apart to find errors in such a change.

Its source: release 0.22.1 of LibRaw, https://github.com/LibRaw/LibRaw/tree/0.22.1 (also
https://www.libraw.org/download). The wrapper, and the script that compiles both (compileLibraw.sh,
Emscripten 5.0.7): release 1.6.0 of libraw-wasm, https://github.com/ybouane/LibRaw-Wasm/tree/v1.6.0.

Written offer: whoever gave you this build also gives you, or anyone, on request the complete source
of LibRaw 0.22.1 and what is needed to compile it as above, for no more than the cost of sending it.
The offer is valid for three years from the day on which you got the build. Ask at the address from
which you got it.

To replace it:

1. Get the source of libraw-wasm 1.6.0. In its compileLibraw.sh one line fetches LibRaw (git clone):
   let it fetch your changed copy. Run \`bash compileLibraw.sh\` with Emscripten 5.0.7, Node, autoconf,
   automake and libtool. The result is its folder dist.
2. With the source of Glowbook: \`npm ci\`, put your files over those in node_modules/libraw-wasm/dist,
   \`npm run build\`. The new app is in dist.
3. Without it, where only libraw.wasm has changed: put it over assets/raw/libraw-*.wasm of the build,
   under the name that stands there. A browser that has the app already keeps the former file until
   the data of the site are deleted; export your log first.`,
    text: 'LGPL-2.1.txt',
  },
  {
    name: 'libheif 1.23 and libde265 (compiled into libheif-js)',
    licence: 'LGPL-3.0-or-later',
    note: `Copyright (C) 2017-2026 Dirk Farin, struktur AG. Source: https://github.com/strukturag/libheif and
https://github.com/strukturag/libde265; the package that compiles it:
https://github.com/catdad-experiments/libheif-js. The app loads it as files of its own (assets/heif/),
which may be replaced by a modified build of the library. Licence text: that of libheif-js below.`,
  },
  {
    name: 'Little CMS 2.19.1 (compiled into libraw-wasm)',
    licence: 'MIT',
    note: 'Copyright (c) 1998-2026 Marti Maria Saguer. Source: https://github.com/mm2/Little-CMS',
    text: 'MIT.txt',
  },
  {
    name: 'libjpeg (compiled into libraw-wasm)',
    licence: 'IJG',
    note: `This software is based in part on the work of the Independent JPEG Group.
Copyright (C) 1991-2024, Thomas G. Lane, Guido Vollbeding. Source: https://www.ijg.org`,
  },
  {
    name: 'Emscripten runtime with musl and the LLVM runtime libraries (compiled into libraw-wasm)',
    licence: 'MIT OR NCSA; MIT; Apache-2.0 WITH LLVM-exception',
    note: `Copyright (c) 2010-2014 Emscripten authors; musl copyright (c) 2005-2020 Rich Felker, et al.;
LLVM project contributors. Source: https://github.com/emscripten-core/emscripten`,
    text: 'MIT.txt',
  },
  {
    name: 'Camera spectral sensitivities and training reflectances (rawtoaces-data)',
    licence: 'Apache-2.0',
    note: `Copyright Contributors to the rawtoaces project and its data. Only numbers derived from them are
in the app (mean locus, covariance, mean sensitivity); the files that hold them name the derivation.
The tests carry them whole (tests/data), with photos rendered from them.
Source: https://github.com/AcademySoftwareFoundation/rawtoaces-data`,
    text: 'Apache-2.0.txt',
  },
  {
    name: 'CIE 1931 2° standard colorimetric observer',
    licence: 'published values (CC-BY-4.0, as rawtoaces-data states for the same table)',
    note: `ISO/CIE 11664-1:2019, table of the 1931 observer, as published by the CIE (https://cie.co.at),
DOI 10.25039/CIE.DS.xvudnb9b. The tests carry it whole (tests/data/observer-1931-1nm.csv).`,
  },
  {
    name: 'Spectra of lights (colour, for the tests only: tests/data/spectra)',
    licence: 'BSD-3-Clause',
    note: `Copyright 2013 Colour Developers. CIE illuminants (CIE 015:2018) and lamps of the NIST colour
quality scale, from the tables of the library colour. Source: https://github.com/colour-science/colour`,
    text: 'BSD-3-Clause-colour.txt',
  },
]
