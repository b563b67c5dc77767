// SPDX-License-Identifier: GPL-3.0-or-later
// One question about a street or a lid, with large answers: by key, by touch, or typed where the
// answer is a number. What is usual for the class of street is marked on its answer, and waits for
// a person to choose it.
#pragma once

#include "app/commands/work_zone.h"

#include <QWidget>

class QGridLayout;
class QKeyEvent;
class QLabel;
class QLineEdit;

namespace keyround {

class BigButton;

class SiteAsker final : public QWidget
{
    Q_OBJECT
public:
    explicit SiteAsker(QWidget *parent = nullptr);

    void ask(Session &session, const Valve &valve, SiteQuestion question);
    void refuse(const QString &why);
    [[nodiscard]] QWidget *firstField() const;
    bool takeKey(QKeyEvent *event);

Q_SIGNALS:
    void answered(SiteQuestion question, double value);
    void kept(); ///< the answer that it has stays

private:
    void showAnswers(const StopSite &stop, UnitSystem units);
    void takeTyped();

    QLabel *m_question;
    QLabel *m_about;
    QGridLayout *m_grid;
    QList<BigButton *> m_buttons;
    std::vector<double> m_values;
    QWidget *m_typing;
    QLineEdit *m_edit;
    QLabel *m_message;
    BigButton *m_keep;
    SiteQuestion m_asked = SiteQuestion::Lid;
    UnitSystem m_units = UnitSystem::Us;
};

} // namespace keyround
