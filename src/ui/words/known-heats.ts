import type {
  FixedPointHazard,
  FixedPointRefusal,
  FixedPointStep,
  SteelClass,
} from '../../physics/fixed-points.ts'

/** What to do, one step a sentence. */
export const KNOWN_HEAT_STEP_WORDS: Record<FixedPointStep, string> = {
  'isolate mains':
    'Never work on a live element or an open mains coil. Switch off, unplug, and heat with something else.',
  'carry fumes off': 'Work under a hood or outdoors, with the draught taking fumes away from you.',
  'dry salt': 'Dry the salt first: ten minutes on a hot plate or in an oven. Damp salt spits.',
  'oxidised carrier':
    'Take a piece of steel or heating strip with a black, firm oxide skin as carrier. Brush off loose scale.',
  'pinch on carrier': 'Put a pinch of it on the carrier, on a clear spot, no thicker than a coin.',
  'snippet on carrier':
    'Lay a small snippet of the metal on the carrier, or in a shallow drilled hole in it.',
  'cover with charcoal':
    'Cover the snippet with powdered charcoal or inert gas. Charcoal gives off carbon monoxide: keep the draught on. In open air choose "open air": it melts lower.',
  'heat slowly': 'Heat slowly and evenly from below, so that carrier and sample stay alike.',
  'watch first melt': 'Watch for the first wetting: edges round off and turn glassy.',
  'hold half melted':
    'Hold it half melted. While solid and liquid stand side by side, it is at its melting point.',
  'flame off': 'Turn the flame off or out of sight before the photo. Its light must not fall in.',
  'photograph carrier':
    'Photograph at once. Read the oxidised carrier close beside the sample, or a hole in it: never the bead.',
  'magnet on wire':
    'Hang a small magnet on a steel wire, or touch the steel with one on a stick now and then.',
  'watch magnet let go': 'Watch, on heating, for the moment when the magnet no longer holds.',
  'photograph at let go': 'Photograph that spot at once.',
  'work in shade': 'Work in the dark or in deep shade, so that small changes of the glow show.',
  'watch shadow heating':
    'On heating, a darker shadow runs over the steel and goes: it takes up heat there.',
  'watch shadow cooling':
    'On cooling in still air, the glow brightens for a moment before it fades: it gives heat back.',
  'photograph at shadow': 'Photograph while the shadow or brightening crosses the spot you read.',
  'seat thermocouple':
    'Seat the junction in a drilled hole, or tie it hard to the surface, with some length of lead hot too.',
  'wait steady': 'Wait until the display stays within a few degrees for half a minute.',
  'photograph beside junction': 'Photograph the surface beside the junction and note the display.',
  'crayon stroke': 'Draw a stroke with the crayon on the clean, oxidised surface.',
  'watch crayon melt': 'On heating, watch for the stroke to turn wet and glassy.',
  'photograph beside stroke': 'Photograph at once. Read the surface beside the stroke.',
}

/** Hazards to the person and the shop; the others only spoil the reading. */
export const HURTING_HAZARDS: ReadonlySet<FixedPointHazard> = new Set([
  'salt spits',
  'salt fumes',
  'live element',
  'molten metal',
  'silver spits',
  'thermocouple on live',
  'coating fumes',
])

/** What can go wrong or hurt. */
export const KNOWN_HEAT_HAZARD_WORDS: Record<FixedPointHazard, string> = {
  'salt spits': 'Damp salt spits when hot. Eye protection on, face away.',
  'salt fumes': 'Molten salt fumes. Carry the fumes off, do not breathe them.',
  'salt corrodes': 'Salt eats hot metal. Use a carrier that you can spare and wash it afterwards.',
  'sodium light':
    'Salt vapour in a flame glows yellow. One part in ten of that light reads 33 K too hot. Flame off first.',
  'mixed salts melt low':
    'Mixed salts melt far lower. Use one pure salt, a clean carrier, and no leftover of another.',
  'live element': 'Never on a live or open mains element: molten salt and metal conduct.',
  'clean bead reads hot':
    'A clean metal bead reads hundreds of degrees hot. Read the oxidised carrier or a hole beside it.',
  'molten metal': 'Molten metal burns through clothing and bursts on damp ground. Keep both dry.',
  'silver spits':
    'Silver melted in air spits as it freezes. Eye protection on, keep away until it is solid.',
  'open air lowers':
    'In open air silver and copper take up oxygen and melt 11 to 20 °C lower. State how it was covered.',
  'not on freezing':
    'Use melting, on the way up. On the way down a melt can stay liquid below its melting point.',
  'carrier not sample':
    'A carrier heated from one side is hotter there than the sample. Heat slowly, read close by.',
  'near floor':
    'This is near the lowest glow that a camera can read. Darken the shop, expose longer.',
  'magnet heating only':
    'Only on heating. On cooling the steel takes the magnet back tens of degrees lower.',
  'class moves point':
    'Steel with more carbon lets go at a lower heat. State the class if you know it.',
  'heating rate moves point':
    'Fast heating shifts the shadow up, fast cooling shifts the brightening down. Go slowly.',
  'shadow weak in mild steel': 'Mild steel hardly shows it. Use spring, file or plain tool steel.',
  'alloy steel unknown': 'Alloy steels turn at other heats. Only for plain carbon steel.',
  'thermocouple reads cold':
    'A junction that only touches reads cold, by tens of degrees. Seat it in a hole.',
  'thermocouple on live':
    'Never touch a live element with a thermocouple: meter and hand become live.',
  'crayon not in flame': 'A flame on the stroke melts it early. Heat from the other side.',
  'coating fumes':
    'Zinc, cadmium, lead and paint give off poison when hot. Never heat coated or unknown pieces.',
}

export const STEEL_CLASS_WORDS: Record<SteelClass, string> = {
  'low-carbon': 'Mild steel or iron (under 0.3 % C)',
  'medium-carbon': 'Medium carbon (0.3 to 0.6 % C)',
  'high-carbon': 'Spring, file, tool (above 0.6 % C)',
  unknown: 'Not known',
}

export const KNOWN_HEAT_REFUSAL_WORDS: Record<FixedPointRefusal['code'], string> = {
  'unknown heat': 'This version does not know that known heat. Choose one from the list.',
  'class not known for this':
    'For this class of steel no dependable point is known. Use medium or high carbon steel, or another known heat.',
  'value needed': 'State the temperature and its limits of error (plus or minus).',
  'value out of range':
    'State a temperature between 427 and 1827 °C and limits of error of 0 or more.',
}
