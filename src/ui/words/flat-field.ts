import type { FlatField, FlatFieldResult } from '../../light/flat-field.ts'
import type { Notice } from './estimate.ts'

export const FLAT_FIELD_WORDS = {
  name: 'Flat field',
  doing:
    'For a grey card that lies far from the glow in the picture. Photograph white paper or a grey card that fills the picture: evenly lit, out of focus, light grey but not white.',
  ask: 'Open a photo of the sheet',
  kept: 'Flat field kept with this camera.',
  forgotten: 'Flat field forgotten.',
}

export const flatFieldWords = ({ green, uncertainty }: FlatField): string =>
  `corners ${(100 * Math.abs(green)).toFixed(1)} % ${green < 0 ? 'redder' : 'greener'} than the middle, ± ${(200 * uncertainty).toFixed(1)} %`

export const OTHER_CAMERA: Notice = {
  weight: 'stop',
  title: 'This photo is of another camera',
  todo: 'Each lens has its own flat field. Take it with this camera.',
}

type Reason = Extract<FlatFieldResult, { kind: 'refused' }>['reason']

const REFUSALS: Readonly<Record<Reason, Omit<Notice, 'weight'>>> = {
  clipped: {
    title: 'Part of the sheet is white',
    todo: 'Nothing can be read where a channel is at its top. Expose less.',
  },
  dark: {
    title: 'The sheet is too dark',
    todo: 'Expose longer, until it is light grey in every corner.',
  },
  'not even': {
    title: 'This is no evenly lit sheet',
    todo: 'It must fill the picture, without shadows, under one light. An overcast sky will do.',
  },
}

export const flatFieldRefusalNotice = (reason: Reason): Notice => ({
  weight: 'stop',
  ...REFUSALS[reason],
})
