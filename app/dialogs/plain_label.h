// SPDX-License-Identifier: GPL-3.0-or-later
// Labels that show what they are given as plain text, whatever it looks like.
#pragma once

#include <QLabel>
#include <QVariant>

namespace keyround {

/// Words on one line, such as the caption of a field. The role picks the look in
/// resources/style.qss: "title", "heading", "quiet", "caution".
[[nodiscard]] inline QLabel *plainCaption(const QString &text, const QString &role = {},
                                          QWidget *parent = nullptr)
{
    auto *label = new QLabel(parent);
    label->setTextFormat(Qt::PlainText);
    label->setText(text);
    if (!role.isEmpty()) {
        label->setProperty("role", role);
    }
    return label;
}

/// Words that may run over several lines; the role as above.
[[nodiscard]] inline QLabel *plainLabel(const QString &text, const QString &role = {},
                                        QWidget *parent = nullptr)
{
    QLabel *label = plainCaption(text, role, parent);
    label->setWordWrap(true);
    return label;
}

/// A tool tip that shows the text as it is: Qt guesses rich text from what looks like it.
[[nodiscard]] inline QString plainToolTip(const QString &text)
{
    return text.isEmpty() ? QString() : QStringLiteral("<qt>%1</qt>").arg(text.toHtmlEscaped());
}

} // namespace keyround
