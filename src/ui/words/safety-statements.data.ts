/**
 * Every statement about safety that the app makes, with its source, in one place: to be reviewed by a
 * professional in ten minutes. Printed as a page at /safety/statements.
 * Usual cautions only; local codes, the maker's instructions and licensed practice come first.
 */
import type { JobKind } from '../../session/safety/job.ts'
import type { SurfaceHazard } from '../../physics/materials.ts'

export const SAFETY_SOURCES = {
  osha252: 'OSHA 29 CFR 1910.252 (welding, cutting, brazing: fire prevention)',
  osha133: 'OSHA 29 CFR 1910.133 (eye and face protection)',
  nfpa51b: 'NFPA 51B, 2019 and later (hot work)',
  nfpa70e: 'NFPA 70E (electrical safety in the workplace)',
  en50110: 'EN 50110-1 (operation of electrical installations: the five safety rules)',
  en60335: 'EN 60335-1 (household appliances: accessible live parts, earthing)',
  iec60519: 'IEC 60519-1 (electroheating installations)',
  iso16321: 'ISO 16321-1, EN 166, EN 171 (eye protectors, infrared filters)',
  icnirp: 'ICNIRP 2013; IEC 62471; EN 14255-2 (incoherent infrared)',
  draper: 'Draper 1847 (first visible glow)',
  asbestos: 'EU Directive 2009/148/EC, OSHA 29 CFR 1910.1001 (asbestos)',
  practice: 'common practice',
} as const
export type SafetySource = keyof typeof SAFETY_SOURCES

export interface Statement {
  /** Stored with what was ticked: never rename one. */
  readonly id: string
  readonly text: string
  /** The reason, on tap. */
  readonly why: string
  readonly source: SafetySource
}

const s = (id: string, text: string, why: string, source: SafetySource = 'practice'): Statement =>
  ({ id, text, why, source })

const NEAR_BY = s('somebody-near', 'Somebody is near who can help', 'Alone, a burn, a shock or a fire is found too late.')
const DRESSED = s('dressed', 'Hair tied, cotton or leather, dry gloves, shoes closed', 'Synthetics melt into the skin; a damp glove turns to steam; sleeves catch fire.')
const CLEARED = s('cleared', 'What burns is cleared or covered within 11 m (35 ft)', 'Sparks and radiant heat reach further than they look; mind cracks, ducts and the floor below.', 'osha252')
const EXTINGUISHER = s('extinguisher', 'An extinguisher that fits is in reach', 'The first half minute decides. Water is wrong for hot oil, salts, metals and live parts.', 'osha252')
const AIR = s('ventilation', 'Door open or extractor on; a carbon monoxide alarm where fuel burns', 'Carbon monoxide has no smell. Fluxes, salts and coatings fume.')
const COATINGS = s('coatings', 'No zinc, cadmium, lead, chrome or beryllium; no paint; no chlorinated cleaner', 'Their fumes poison, some of them days later. Chlorinated solvents give phosgene near heat.')
const EYES = s('eye-protection', 'Eye protection of the right shade, with side shields', 'A glow sends far more infrared than light. Sunglasses do not stop it.', 'iso16321')
const ASBESTOS = s('asbestos', 'No old pads, cords or boards that may be asbestos', 'Before about 1990 (later in places) heat pads, gaskets and cords were made of it. Do not touch or break them; have them tested.', 'asbestos')

/** In the order in which they are done, at most eight each. */
export const JOB_CHECKS: Record<JobKind, readonly Statement[]> = {
  'mains element': [
    s('licensed', 'The electrical part is done or checked by licensed hands', 'An open element on the mains is a bare live wire.', 'en60335'),
    s('isolated', 'Isolated and locked off before anything is touched', 'Off is not isolated: a switch may break the neutral only, and somebody may switch it on.', 'en50110'),
    s('proved-dead', 'Proved dead on all poles, with a tester proved before and after', 'A tester that has failed shows dead too.', 'en50110'),
    s('earthed', 'Metal case earthed', 'A wire that sags onto the case makes it live.', 'en60335'),
    s('rcd', 'Fed through a residual-current device, tested today', 'It cuts a shock to earth within a heartbeat; not one from pole to pole.', 'iec60519'),
    s('guards', 'Guards on; nothing is ever placed on a live element', 'Meters, salt and tools conduct. Place samples cold and isolated.', 'iec60519'),
    ASBESTOS,
    NEAR_BY,
  ],
  lamp: [
    s('lamp-rated', 'Lamp at or below its rated volts and watts', 'Over its rating a filament lamp may burst; its life falls with a high power of the volts.'),
    s('dimmer-rated', 'Dimmer rated above the lamp, meant for this lamp', 'Too small a dimmer overheats; some do not work below a least load.'),
    s('lamp-cover', 'Halogen and quartz lamps behind their glass or guard', 'They shatter without warning, and quartz lets ultraviolet through.', 'icnirp'),
    s('lamp-clean', 'Quartz not touched with bare fingers; nothing near that burns', 'A fingerprint etches hot quartz. The bulb reaches several hundred degrees.'),
    s('lamp-isolated', 'Plug out before anything at the holder is touched', 'Threads and pins of a holder may be live though the lamp is off.', 'en50110'),
    s('lamp-eyes', 'Not stared into', 'A bright filament leaves more on the retina than it seems.', 'icnirp'),
    NEAR_BY,
  ],
  forge: [
    CLEARED, EXTINGUISHER, AIR, COATINGS, EYES, DRESSED,
    s('gas', 'Hoses, valves and regulators tight; the gas can be shut off away from the fire', 'Propane is heavier than air and gathers in pits.'),
    NEAR_BY,
  ],
  kiln: [
    s('kiln-isolated', 'Isolated and locked off before reaching in', 'Elements are live; some door switches break one pole only.', 'en50110'),
    s('kiln-earth', 'Earthed, residual-current device tested', 'Hot brick conducts.', 'iec60519'),
    AIR,
    s('kiln-spy', 'Spy hole and door opened with face aside, in the right shade', 'A kiln breathes flame when it is opened, and fills the eye with infrared.', 'iso16321'),
    ASBESTOS, CLEARED, DRESSED, NEAR_BY,
  ],
  melting: [
    s('dry', 'Everything dry: salt, metal, ladle, mould, tools', 'Water under a melt turns to steam and throws it out.'),
    AIR,
    s('salts-apart', 'Salts kept apart; no nitrates, no cyanides, nothing unknown', 'Some mixtures melt low, explode or poison. Chlorides corrode and fume.'),
    COATINGS,
    s('face-shield', 'Face shield over safety glasses', 'Salt spits as it dries, silver as it freezes.', 'osha133'),
    EXTINGUISHER, DRESSED, NEAR_BY,
  ],
  quenching: [
    s('quench-oil', 'Quench oil with a high flash point, in a deep metal tank', 'A hot piece half dipped sets it alight. Used motor oil is no quench oil.'),
    s('quench-lid', 'A lid for the tank in reach', 'Smother burning oil. Water on it throws it about.'),
    s('quench-dry', 'No water in the oil; tongs that hold', 'Water below hot oil boils over. A dropped piece keeps burning.'),
    s('quench-way', 'A clear way from fire to tank', 'Seconds with a glowing piece are no time to climb over things.'),
    EXTINGUISHER, AIR, DRESSED, NEAR_BY,
  ],
}

/** When the work ends. */
export const CLOSING_CHECKS: readonly Statement[] = [
  s('power-off', 'Power off and plug out, or isolated', 'What is off cannot heat by itself at night.'),
  s('gas-off', 'Gas off at the bottle, lines bled', 'A leak fills a closed shop.'),
  s('tools-cool', 'Tools and stands cool, or out of reach', 'Tongs, anvils and stands stay hot for a long time.'),
  s('marked-hot', 'Hot pieces marked HOT, with the time', 'Black steel at 400 °C looks as steel at 20 °C.', 'draper'),
  s('fire-watch', 'Fire watch started', 'Most fires after hot work start in the hour after it.', 'nfpa51b'),
]

/** What a surface brings with it; beside the picker. */
export const SURFACE_HAZARD_WORDS: Record<SurfaceHazard, Statement> = {
  'live parts': s('surface-live', 'A heating wire on the mains is a bare live part, glowing or not. Isolate, lock off, prove dead before you touch it or anything at it.', 'An element has no insulation of its own.', 'en50110'),
  coatings: s('surface-coatings', 'Galvanised, plated, brass, brazed or painted? Its fumes poison: strip it first, elsewhere, or leave it cold.', 'Zinc boils at 907 °C, cadmium at 767 °C; brass gives off zinc.', 'practice'),
  'hot glass': s('surface-glass', 'Lamps run hot and may burst: guard them, keep to their rated volts, do not touch quartz.', 'Pressure rises with the heat of the gas.', 'practice'),
  kiln: s('surface-kiln', 'Kiln: elements behind the wall may be live. Isolate before you reach in; look from aside.', 'Hot brick conducts.', 'iec60519'),
  melt: s('surface-melt', 'A melt burns through cloth and shoes and spits when damp.', 'Steam under a melt throws it out.', 'practice'),
}

/** Where the work itself asks for a word. */
export const CONTEXT_CAUTIONS = {
  'live camera': s('camera-near', 'Keep the phone where your hand would stay, on a stand. Look at the work, not at the screen.', 'Lithium cells swell and burn; phones stop by themselves above about 35 °C around them.'),
  'mains supply': s('meter-mains', 'Measuring at the mains: licensed hands, meter and leads of the right category (CAT III for a fixed installation), nothing bare.', 'A meter set to amperes across the mains explodes.', 'nfpa70e'),
  'supply check': s('measure-dead', 'Measure cold and dead: isolate, lock off, prove dead. Only the meters are read live, by somebody trained and licensed for it.', 'Ohms and millimetres need no voltage.', 'en50110'),
  'lamp meters': s('lamp-meters', 'Mains: measure with a plug-in meter or a metered socket. Open terminals belong to licensed hands.', 'A plug-in meter has nothing bare.', 'en50110'),
  'lamp cold': s('lamp-cold', 'Cold ohms: lamp unplugged and at room temperature for half an hour. Take off what the leads alone show.', 'An ohmmeter on the mains bursts.'),
  'lamp hot': s('lamp-hot', 'A lamp that burns is hot: hold it by its socket, and let it cool.', 'The bulb reaches several hundred degrees.'),
  'lamp over': s('lamp-over', 'Above the lamp’s rated watts or volts: it may burst. Go back below them.', 'Life and glass are made for the rating.'),
  'dimmer small': s('dimmer-small', 'The dimmer is rated below the lamp: it overheats.', 'Its rating is for continuous load.'),
  'black heat': s('black-heat', 'No glow is not cold: when it stops glowing in the dark it is still above 500 °C. Mark it hot.', 'The first glow is seen near 525 °C, in daylight much later.', 'draper'),
} as const
export type ContextCaution = keyof typeof CONTEXT_CAUTIONS

export const FIRST_AID: readonly Statement[] = [
  s('aid-burn', 'Burn: cool running water for 20 minutes, then medical help.', 'It stops the burn from going deeper. No ice, no grease.', 'practice'),
  s('aid-shock', 'Electric shock: power off first, then help. Call the emergency number.', 'Whoever touches them while the power is on is the next.', 'practice'),
  s('aid-clothes', 'Clothes on fire: stop, drop, roll; smother with wool.', 'Running fans the flame.', 'practice'),
  s('aid-eyes', 'Eyes: rinse salt or dust with water for 20 minutes; see a doctor for pain after glare.', 'Harm from glare may show hours later.', 'practice'),
]
