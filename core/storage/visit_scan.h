// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: reading a visit's canonical JSON in the plain form that nearly all have, in a
// tenth of the time that a reader of any JSON needs. Whatever is not in that form (escapes, letters
// beyond ASCII, details that only some visits carry, an unknown key) is left to visitFromJson(),
// which alone says what is damaged: a scan either gives just what that gives, or says false.
#pragma once

#include "core/fieldlog/visit.h"

#include <QByteArrayView>

#include <array>

namespace keyround {

/// An id in its canonical text (36 characters, lower case); null for any other text.
[[nodiscard]] QUuid idFromCanonical(QByteArrayView text);

class VisitScanner
{
public:
    /// Into a fresh visit. False: not in the plain form, and the visit is to be thrown away.
    [[nodiscard]] bool scan(QByteArrayView json, Visit &visit);

private:
    /// Crews, people and laptops come again and again: one text for all of them.
    [[nodiscard]] QString shared(QByteArrayView text);

    struct Known
    {
        QByteArray bytes;
        QString text;
    };
    static constexpr std::size_t knownTexts = 64;
    std::array<Known, knownTexts> m_known;
};

} // namespace keyround
