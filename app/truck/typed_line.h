// SPDX-License-Identifier: GPL-3.0-or-later
// A line for a value in a narrow column, 20 mm high, with what is asked or what is wrong above it.
// What cannot be read stays as typed and is marked; nothing is rounded or guessed. Enter takes the
// value, Escape drops it.
#pragma once

#include <QWidget>

#include <functional>

class QLabel;
class QLineEdit;

namespace keyround {

class TypedLine final : public QWidget
{
    Q_OBJECT
public:
    /// `fault` says what is wrong with a text; empty when it can be taken.
    TypedLine(const QString &fieldName, const QString &question,
              std::function<QString(const QString &)> fault, QWidget *parent = nullptr);

    void setText(const QString &text);
    [[nodiscard]] QString text() const;
    [[nodiscard]] QLineEdit *edit() const { return m_edit; }
    void showRefusal(const QString &why); ///< empty takes the mark away

Q_SIGNALS:
    void edited(const QString &text);
    void taken();
    void dropped();

protected:
    bool eventFilter(QObject *watched, QEvent *event) override;

private:
    QLineEdit *m_edit;
    QLabel *m_message;
    QString m_question;
    std::function<QString(const QString &)> m_fault;
};

} // namespace keyround
