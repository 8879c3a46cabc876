import { createTheme, type MantineColorsTuple, type VariantColorsResolver } from '@mantine/core'

const hedge = Array.from({ length: 10 }, () => 'var(--accent)') as unknown as MantineColorsTuple
const clay = Array.from({ length: 10 }, () => 'var(--danger)') as unknown as MantineColorsTuple

/** How a button of each variant is coloured, in roles: `color="clay"` is for what takes something away. */
const variantColours: VariantColorsResolver = ({ variant, color }) => {
  const role = color === 'clay' ? 'danger' : 'accent'
  if (variant === 'filled')
    return {
      background: `var(--${role})`,
      hover: `var(--${role}-hover)`,
      color: `var(--on-${role})`,
      border: '1px solid transparent',
    }
  if (variant === 'light')
    return {
      background: `var(--${role}-soft)`,
      hover: 'var(--sunken)',
      color: `var(--on-${role}-soft)`,
      border: '1px solid transparent',
    }
  const text = color === 'clay' ? 'var(--danger)' : 'var(--ink)'
  const border = variant === 'default' || variant === 'outline' ? 'var(--line-strong)' : 'transparent'
  const background = variant === 'default' ? 'var(--raised)' : 'transparent'
  return { background, hover: 'var(--sunken)', color: text, border: `1px solid ${border}` }
}

/** Mantine told to speak in our roles, sizes and type. */
export const theme = createTheme({
  fontFamily: 'var(--font)',
  primaryColor: 'hedge',
  colors: { hedge, clay },
  variantColorResolver: variantColours,
  defaultRadius: 'md',
  radius: { xs: '2px', sm: '4px', md: '8px', lg: '14px', xl: '20px' },
  spacing: { xs: '0.25rem', sm: '0.5rem', md: '0.75rem', lg: '1rem', xl: '1.5rem' },
  fontSizes: {
    xs: 'var(--text-tiny)',
    sm: 'var(--text-small)',
    md: 'var(--text-body)',
    lg: 'var(--text-lead)',
    xl: 'var(--text-title)',
  },
  respectReducedMotion: true,
  cursorType: 'pointer',
  components: {
    Button: { defaultProps: { size: 'sm', fw: 600 } },
    ActionIcon: { defaultProps: { size: 36, variant: 'subtle' } },
  },
})
