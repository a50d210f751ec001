export const shelfTexts = {
  next: '',
}
