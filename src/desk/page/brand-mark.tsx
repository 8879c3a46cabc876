/** The mark of Lynchet: a slope in section, with the bank that the plough has left. */
export function BrandMark({ size = 32 }: { readonly size?: number }) {
  return (
    <svg width={size} height={size} viewBox="0 0 32 32" role="img" aria-label="Lynchet">
      <path
        d="M2 9H10C13 9 13.5 16 17 16H19C22.5 16 22.5 23 26 23H30"
        fill="none"
        stroke="currentColor"
        strokeWidth="2.75"
        strokeLinecap="round"
      />
      <path
        d="M4 15.5H8M4 21H13M4 26.5H20"
        fill="none"
        stroke="currentColor"
        strokeWidth="1.75"
        strokeLinecap="round"
        opacity="0.65"
      />
    </svg>
  )
}
