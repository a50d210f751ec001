export const readTexts = {
  next: '',
}
