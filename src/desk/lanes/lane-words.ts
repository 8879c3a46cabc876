import type { LaneFigures, PlanLight } from '#contract'
import { durationText } from '#ui'

const clock = (iso: string): string =>
  new Date(iso).toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' })

/** The light of a day in one sentence, in this machine's own time. */
export function lightText({ civil, sun }: PlanLight): string {
  if (civil.rise === null || civil.set === null)
    return civil.all === 'above' ? 'It does not get dark on that day.' : 'It does not get light on that day.'
  const up = sun.rise && sun.set ? ` The sun is up from ${clock(sun.rise)} to ${clock(sun.set)}.` : ''
  return `Light enough from ${clock(civil.rise)} to ${clock(civil.set)}.${up}`
}

/** Whether lanes fit into the light, and if not into how many days. */
export function fitText(hours: number, light: PlanLight): { readonly fits: boolean; readonly text: string } {
  const left = light.leftHours
  const needs = durationText(hours * 3600)
  if (left !== null) {
    if (left <= 0)
      return { fits: false, text: `There is no daylight left today. ${daysText(hours, light.hours)}` }
    const fits = hours <= left
    const has = durationText(left * 3600)
    const text = fits
      ? `Fits into the ${has} of light left today.`
      : `Needs ${needs}; ${has} of light are left today. ${daysText(hours, light.hours)}`
    return { fits, text }
  }
  if (light.fits) return { fits: true, text: `Fits into the ${durationText(light.hours * 3600)} of light.` }
  return { fits: false, text: daysText(hours, light.hours) }
}

function daysText(hours: number, light: number): string {
  if (light <= 0) return 'No day of that length is light.'
  const days = Math.ceil(hours / light)
  return days <= 1 ? 'It fits into one whole day.' : `It takes ${days} whole days of light like that.`
}

/** Lanes in one line: how many, along what. */
export function lanesText({ lanes, bearing }: Pick<LaneFigures, 'lanes' | 'bearing'>): string {
  const many = `${lanes.toLocaleString('en-GB')} ${lanes === 1 ? 'lane' : 'lanes'}`
  return bearing === null ? many : `${many} along ${bearing.toFixed(0)}°`
}
