export const compareTexts = {
  next: '',
}
