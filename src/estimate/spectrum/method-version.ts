/** As METHOD_VERSION of a glow read by colour, for temperatures from spectra. */
export const SPECTRUM_METHOD_VERSION = 'spectrum 4'
